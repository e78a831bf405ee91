import { MAX_Z, zOf } from '../atomic/elements.ts';
import { FAMILY_DOUBT, softDoubt, type Family } from '../model/groups.ts';
import type { Finding } from '../identify/finding.ts';

/** Below fluorine the spectrum says little about a material: resin, medium and carbonate hold C, N and O too. */
export const LIGHTEST_TELLING_Z = 9;

/**
 * measured: to be met both ways; at-most: something is there, but a rival, the mounting or the medium may hold part or all
 * of it; not-seen: below its detection limit.
 */
export type AmountKind = 'measured' | 'at-most' | 'not-seen';

/** What one spectrum says about the amount of one element. */
export interface Amount {
  readonly symbol: string;
  readonly z: number;
  readonly kind: AmountKind;
  /** Mass fraction in what was analysed: fitted, or for `at-most` the most there can be; never negative. */
  readonly value: number;
  /** Standard deviation by counting and by faults of the model, mass fraction. */
  readonly counting: number;
  /** Standard deviation of ln(amount) by the physics. */
  readonly physics: number;
  /** Detection limit, mass fraction; null where there is none. */
  readonly limit: number | null;
}

/** The amounts of a spectrum. What it is blind to is not among them. */
export interface Evidence {
  readonly amounts: readonly Amount[];
  /** Place of an element in `amounts` by atomic number, -1 where the spectrum is blind. */
  readonly place: Int16Array;
}

/** Name of the entry that keeps the parts of a mixture from adding up to more than was analysed. */
export const WHOLE = 'whole';

/** A limit is 3.29 standard deviations (Currie, Anal. Chem. 40 (1968) 586, limit of detection at 5 %). */
const SIGMAS_IN_LIMIT = 3.29;
/** Faults of the model that counting does not know, mass fraction: what wrong tails and sums leave beside strong lines. */
const MODEL_FAULT = 5e-4;
/** All that was analysed, against carbon that is poorly measured and hydrogen that is not. Chosen. */
const ALL: Amount = {
  symbol: WHOLE,
  z: 0,
  kind: 'at-most',
  value: 1,
  counting: 0.05,
  physics: 0.2,
  limit: null,
};

/** However well references tell an amount: specimens of a material differ by as much. Chosen. */
const LEAST_REFERENCED = 0.15;

/** The same where oxygen is not recorded: the amounts add up to 1 without it, and oxides are half oxygen by mass at most (silica 53 %). */
const WITHOUT_OXYGEN = 2.1;

/**
 * Relative doubt of a standardless amount by its strongest line: that of its family; absorption and window below 1 keV 25 %, below
 * 2 keV 8 %. A grain is no flat, even, thick specimen: 15 % more (common practice, no source). Reference grains tell it better.
 */
function physicsOf({ referenced, lines: [strongest] }: Finding): number {
  if (referenced !== undefined) return Math.max(LEAST_REFERENCED, referenced);
  const family = FAMILY_DOUBT[(strongest?.line[0] ?? 'L') as Family];
  const energyEv = strongest?.energyEv ?? 0;
  return Math.hypot(family, softDoubt(energyEv), 0.15);
}

/**
 * The amounts that findings state, by ascending Z, the whole first.
 * @param unknownWindow the detector sits behind a thick window of a thickness that nothing tells: it may hide carbon, nitrogen and oxygen
 */
export function evidenceOf(findings: readonly Finding[], unknownWindow = false): Evidence {
  const bySymbol = new Map(findings.map((finding) => [finding.symbol, finding]));
  const shown = findings.filter(({ symbol }) => !unknownWindow || isTelling(symbol));
  const stated = shown.flatMap((finding) => amountOf(finding, bySymbol) ?? []).sort((a, b) => a.z - b.z);
  const whole = stated.some(({ symbol }) => symbol === 'O') ? ALL.value : WITHOUT_OXYGEN;
  const amounts = [{ ...ALL, value: whole }, ...stated];
  const place = new Int16Array(MAX_Z + 1).fill(-1);
  amounts.forEach(({ z }, i) => (place[z] = i));
  return { amounts, place };
}

/** The evidence reduced to the whole, what something is seen of, and the elements of given places. */
export function reduced({ amounts, place }: Evidence, wanted: ReadonlySet<number>): Evidence {
  const kept = amounts.filter(({ kind }, i) => kind !== 'not-seen' || wanted.has(i));
  const places = new Int16Array(place.length).fill(-1);
  kept.forEach(({ z }, i) => (places[z] = i));
  return { amounts: kept, place: places };
}

export function isTelling(symbol: string): boolean {
  return (zOf(symbol) ?? 0) >= LIGHTEST_TELLING_Z;
}

type FindingMap = ReadonlyMap<string, Finding>;

function amountOf(finding: Finding, findings: FindingMap): Amount | null {
  const { symbol, z, verdict, massFraction, limit, counts, origin } = finding;
  // Open oxygen is neither seen nor proved absent.
  if (verdict === 'blind' || (verdict === 'open' && symbol === 'O')) return null;
  const base = { symbol, z, physics: physicsOf(finding), limit: limit?.massFraction ?? null };
  const seen = verdict !== 'not-seen' && massFraction !== null && massFraction.value > 0;
  if (seen) {
    const relative = counts.value > 0 ? counts.sigma / counts.value : 1;
    const counting = Math.hypot(MODEL_FAULT, relative * massFraction.value);
    const doubted = verdict === 'open' || origin === 'setting' || !isTelling(symbol);
    return { ...base, kind: doubted ? 'at-most' : 'measured', value: massFraction.value, counting };
  }
  if (limit === null) return null;
  const perCount = limit.massFraction / limit.counts;
  const counting = Math.hypot(
    MODEL_FAULT,
    counts.sigma > 0 ? counts.sigma * perCount : limit.massFraction / SIGMAS_IN_LIMIT,
  );
  const value = Math.max(0, counts.value) * perCount;
  if (verdict === 'not-seen' && isTelling(symbol)) return { ...base, kind: 'not-seen', value, counting };
  return { ...base, kind: 'at-most', value: Math.max(value, rivalCounts(finding, findings) * perCount), counting };
}

/** Counts that an open element may take over from the elements it could stand in for. */
function rivalCounts({ rivals }: Finding, findings: FindingMap): number {
  const counts = rivals.flatMap(({ name }) => name.split('+').map((symbol) => findings.get(symbol)?.counts.value ?? 0));
  return counts.reduce((sum, value) => sum + Math.max(0, value), 0);
}

import { MAX_Z, zOf } from '../atomic/elements.ts';
import type { Finding } from '../identify/finding.ts';
import { doubtOf, type Joint, jointOf, totalOf } from './joint.ts';

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
  /** Present or open, with an amount: not merely what could hide. */
  readonly seen: boolean;
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
  /** How the measured ones hang together. */
  readonly joint: Joint;
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
  seen: true,
  value: 1,
  counting: 0.05,
  physics: 0.2,
  limit: null,
};

/** The same where oxygen is not recorded: the amounts add up to 1 without it, and oxides are half oxygen by mass at most (silica 53 %). */
const WITHOUT_OXYGEN = 2.1;

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
  return { amounts, place, joint: jointly(amounts, bySymbol) };
}

function jointly(amounts: readonly Amount[], findings: FindingMap): Joint {
  const places = [...amounts.keys()].filter((i) => amounts[i].kind === 'measured');
  const measured = places.map((i) => findings.get(amounts[i].symbol)!);
  const sigma = measured.map(({ massFraction, counts }) => relativeOf(counts) * massFraction!.value);
  return jointOf(measured, sigma, places);
}

/** The evidence reduced to the whole, what something is seen of, and the elements of given places. */
export function reduced({ amounts, place, joint }: Evidence, wanted: ReadonlySet<number>): Evidence {
  const kept = amounts.filter(({ kind }, i) => kind !== 'not-seen' || wanted.has(i));
  const places = new Int16Array(place.length).fill(-1);
  kept.forEach(({ z }, i) => (places[z] = i));
  return { amounts: kept, place: places, joint: { ...joint, places: joint.places.map((i) => places[amounts[i].z]) } };
}

export function isTelling(symbol: string): boolean {
  return (zOf(symbol) ?? 0) >= LIGHTEST_TELLING_Z;
}

type FindingMap = ReadonlyMap<string, Finding>;

const relativeOf = ({ value, sigma }: Finding['counts']): number => (value > 0 ? sigma / value : 1);

function amountOf(finding: Finding, findings: FindingMap): Amount | null {
  const { symbol, z, verdict, massFraction, limit, counts, origin } = finding;
  // Open oxygen is neither seen nor proved absent.
  if (verdict === 'blind' || (verdict === 'open' && symbol === 'O')) return null;
  const seen = verdict !== 'not-seen' && massFraction !== null && massFraction.value > 0;
  const base = { symbol, z, seen, physics: totalOf(doubtOf(finding)), limit: limit?.massFraction ?? null };
  if (seen) {
    const counting = Math.hypot(MODEL_FAULT, relativeOf(counts) * massFraction.value);
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

import { log } from '../arithmetic/exponential.ts';
import { symbolOf } from '../atomic/elements.ts';
import { CANDIDATE_ELEMENTS } from '../identify/candidates.ts';
import type { ElementFinding } from '../identify/finding.ts';

/** Binding media and resins bring these everywhere, so they say how much of a grain was hit, not of what kind it is. */
export const MEDIUM: ReadonlySet<string> = new Set(['C', 'N', 'O']);
/** Least doubt about how much medium was hit with a grain, as a logarithm: common practice, no source. */
const LEAST_DILUTION_SIGMA = 0.1;
/** A part by mass too small to be seen by X-rays: an estimate below it, as from very few counts, says nothing of the medium. */
const LEAST_VISIBLE = 1e-6;

/** What a spectrum says of the composition without the medium, in arrays by `SHARE_SYMBOLS`; NaN where it says nothing. */
export interface GrainComposition {
  /** Mass fractions within what is required or open, the medium and the mounting left out; they add up to 1 over these. */
  readonly share: Float32Array;
  /** Standard uncertainties of the shares: from counting (unseen elements too), and from the physics of the estimate. */
  readonly counting: Float32Array;
  readonly physics: Float32Array;
  /** Symbols that are required or open, largest share first. */
  readonly seen: readonly string[];
  /** ln(grain/medium) by mass, with its uncertainty; null where either is not seen. */
  readonly dilution: { readonly value: number; readonly sigma: number } | null;
}

export const SHARE_SYMBOLS: readonly string[] = CANDIDATE_ELEMENTS.map(symbolOf).filter(
  (symbol) => !MEDIUM.has(symbol),
);
const INDEX: ReadonlyMap<string, number> = new Map(SHARE_SYMBOLS.map((symbol, i) => [symbol, i]));

interface Amount {
  readonly symbol: string;
  readonly seen: boolean;
  readonly value: number;
  readonly counting: number;
  readonly physics: number;
}

/** The composition that a record's elements tell, without medium and mounting. */
export function compositionIn(elements: readonly ElementFinding[]): GrainComposition {
  const amounts = elements.flatMap((finding) => amountOf(finding) ?? []);
  const grain = amounts.filter(({ symbol }) => INDEX.has(symbol));
  const seen = grain.filter((amount) => amount.seen).sort((a, b) => b.value - a.value);
  const total = sum(seen.map(({ value }) => value));
  const empty = (): Float32Array => new Float32Array(SHARE_SYMBOLS.length).fill(NaN);
  const [share, counting, physics] = [empty(), empty(), empty()];
  for (const amount of grain) {
    const i = INDEX.get(amount.symbol)!;
    const scale = total > 0 ? total : 1;
    share[i] = amount.value / scale;
    counting[i] = shareSigma(amount, seen, scale, (one) => one.counting);
    physics[i] = shareSigma(amount, seen, scale, (one) => one.physics);
  }
  return { share, counting, physics, seen: seen.map(({ symbol }) => symbol), dilution: dilutionOf(amounts, seen) };
}

/** Amount by mass of an element, seen or not; null where the spectrum is blind to it or the mounting brings it. */
function amountOf({ symbol, verdict, origin, massFraction, counts, limit }: ElementFinding): Amount | null {
  if (verdict === 'blind' || origin === 'setting') return null;
  const seen = verdict !== 'not-seen';
  if (massFraction !== null && massFraction.value > 0) {
    const { value, sigma, counting = sigma, physics = 0 } = massFraction;
    return { symbol, seen, value, counting, physics };
  }
  if (limit === null || limit.counts <= 0) return null;
  const perCount = limit.massFraction / limit.counts;
  return { symbol, seen: false, value: counts.value * perCount, counting: counts.sigma * perCount, physics: 0 };
}

/** Uncertainty of m/M, M being the sum over what is seen: the parts propagated as independent. */
function shareSigma(amount: Amount, seen: readonly Amount[], total: number, of: (amount: Amount) => number): number {
  const share = amount.value / total;
  const others = sum(seen.map((other) => (other.symbol === amount.symbol ? 0 : (share * of(other)) ** 2)));
  const own = amount.seen ? (1 - share) * of(amount) : of(amount);
  return Math.sqrt(own ** 2 + others) / total;
}

function dilutionOf(amounts: readonly Amount[], seen: readonly Amount[]): GrainComposition['dilution'] {
  const medium = amounts.filter(({ symbol, seen }) => seen && MEDIUM.has(symbol));
  const logOf = (parts: readonly Amount[]) => {
    const total = sum(parts.map(({ value }) => value));
    const variance = sum(parts.map(({ counting, physics }) => counting ** 2 + physics ** 2));
    return { value: log(total), variance: variance / total ** 2 };
  };
  if (medium.length === 0 || seen.length === 0) return null;
  const [grain, rest] = [logOf(seen), logOf(medium)];
  if (Math.abs(grain.value - rest.value) > -log(LEAST_VISIBLE)) return null;
  return {
    value: grain.value - rest.value,
    sigma: Math.hypot(LEAST_DILUTION_SIGMA, Math.sqrt(grain.variance + rest.variance)),
  };
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

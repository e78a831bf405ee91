import { exp } from '../arithmetic/exponential.ts';
import { Type, type Static } from 'typebox';
import { atomicWeight, symbolOf } from '../atomic/elements.ts';
import { Measured } from '../identify/finding.ts';
import type { MeasuredElement, ReferenceGrain } from './reference-grain.ts';
import { measuredPair, type Pair, spokenOf, type Told, toldBy } from './sensitivity.ts';

/** An atomic ratio of two elements, measured against references: ratio of ratios, with the modelled change of matrix. */
export const ReferenceRatio = Type.Object({
  numerator: Type.String(),
  denominator: Type.String(),
  value: Measured,
  /** One standard uncertainty by the counting of the grain alone. */
  counting: Type.Number({ minimum: 0 }),
  /** The same ratio without references. */
  standardless: Type.Number(),
  /** Largest factor by which the model's matrix correction differs between the grain and a reference, >= 1. */
  correction: Type.Number({ minimum: 1 }),
  /** Names of the references. */
  by: Type.Array(Type.String()),
});
export type ReferenceRatio = Static<typeof ReferenceRatio>;

/** Scatter of a ratio between spectra of one grain or of grains alike, relative, before repeats tell it: tilt, edges, size. Chosen. */
export const USUAL_SCATTER = 0.025;
/** As many repeats as that is worth. */
const WORTH_REPEATS = 4;
/** Standard uncertainty of the modelled matrix correction, as part of |ln correction|; calibrated, see tests/statistics. */
export const CORRECTION_SHARE = 0.2;
/** References of one pair that lie further apart than this, in standard deviations, cannot both be what they are said to be. */
const CANNOT_BOTH = 4;

/** Against the element of most counts that a reference speaks of: all others that are there. */
export function referenceRatios(
  references: readonly ReferenceGrain[],
  elements: readonly MeasuredElement[],
): ReferenceRatio[] {
  const spoken = new Set(references.flatMap(spokenOf));
  const there = elements
    .filter(({ z, present, massFraction }) => present && massFraction !== null && spoken.has(z))
    .sort((a, b) => b.counts.value - a.counts.value);
  return there.slice(1).flatMap(({ z }) => ratioOf({ above: z, below: there[0].z }, references, elements) ?? []);
}

function ratioOf(
  pair: Pair,
  references: readonly ReferenceGrain[],
  elements: readonly MeasuredElement[],
): ReferenceRatio | null {
  const told = references.flatMap((reference) => toldBy(reference, pair) ?? []);
  const own = measuredPair(elements, pair);
  if (told.length === 0 || own === null) return null;
  const worth = own.counts - own.mass.ln;
  const { ln, sigma } = pooled(told, worth);
  const atoms = atomicWeight(pair.below) / atomicWeight(pair.above);
  const value = atoms * exp(own.mass.ln + ln);
  return {
    numerator: symbolOf(pair.above),
    denominator: symbolOf(pair.below),
    value: { value, sigma: value * Math.hypot(own.mass.sigma, sigma) },
    counting: value * own.mass.sigma,
    standardless: atoms * exp(own.mass.ln),
    correction: exp(Math.max(...told.map((one) => Math.abs(worth - one.worth)))),
    by: told.map(({ name }) => name),
  };
}

/** What references say of a pair together, for a grain whose lines the model holds to be worth so much. */
function pooled(told: readonly Told[], worth: number): { readonly ln: number; readonly sigma: number } {
  const scatter = scatterOf(told);
  const variance = ({ sigma, worth: own }: Told): number =>
    sigma ** 2 + scatter ** 2 + (CORRECTION_SHARE * (worth - own)) ** 2;
  const weight = told.reduce((sum, one) => sum + 1 / variance(one), 0);
  const ln = told.reduce((sum, one) => sum + one.ln / variance(one), 0) / weight;
  // The grain scatters as a reference does. What the model gets wrong in going from one matrix to another does not average out.
  const shared = told.reduce((sum, one) => sum + (CORRECTION_SHARE * Math.abs(worth - one.worth)) / variance(one), 0);
  const counted = told.reduce((sum, one) => sum + (one.sigma ** 2 + scatter ** 2) / variance(one) ** 2, 0);
  return { ln, sigma: Math.hypot(scatter, shared / weight, Math.sqrt(counted) / weight) };
}

/** Scatter of repeats beyond counting, pooled over labels with the usual one. */
function scatterOf(told: readonly Told[]): number {
  let [sum, degrees] = [WORTH_REPEATS * USUAL_SCATTER ** 2, WORTH_REPEATS];
  for (const label of new Set(told.map((one) => one.label))) {
    const alike = told.filter((one) => one.label === label);
    const mean = alike.reduce((total, { ln }) => total + ln, 0) / alike.length;
    const counted = alike.reduce((total, { sigma }) => total + sigma ** 2, 0) / alike.length;
    const spread = alike.reduce((total, { ln }) => total + (ln - mean) ** 2, 0);
    sum += Math.max(0, spread - (alike.length - 1) * counted);
    degrees += alike.length - 1;
  }
  return Math.sqrt(sum / degrees);
}

/**
 * Names of the references that contradict the others: what they say of a pair, matrix corrected, lies too far from what the others
 * say. Of two that disagree neither can be believed; of more, the odd one out goes first.
 */
export function contradictedBy(references: readonly ReferenceGrain[]): ReadonlySet<string> {
  const out = new Set<string>();
  for (;;) {
    const kept = references.filter(({ name }) => !out.has(name));
    const worst = pairsOf(kept)
      .flatMap((pair) => odd(kept.flatMap((reference) => toldBy(reference, pair) ?? [])) ?? [])
      .sort((a, b) => b.distance - a.distance)[0];
    if (worst === undefined) return out;
    for (const name of worst.names) out.add(name);
  }
}

function pairsOf(references: readonly ReferenceGrain[]): Pair[] {
  const zs = [...new Set(references.flatMap(spokenOf))].sort((a, b) => a - b);
  return zs.flatMap((above, i) => zs.slice(i + 1).map((below) => ({ above, below })));
}

/** The one that lies furthest from what the others say together; both, where there are but two. */
function odd(told: readonly Told[]): { readonly names: readonly string[]; readonly distance: number } | null {
  if (told.length < 2) return null;
  const judged = told.map((one) => {
    const others = pooled(
      told.filter((other) => other !== one),
      one.worth,
    );
    return { one, distance: Math.abs(one.ln - others.ln) / Math.hypot(one.sigma, others.sigma) };
  });
  const worst = judged.reduce((a, b) => (b.distance > a.distance ? b : a));
  if (worst.distance <= CANNOT_BOTH) return null;
  return { names: told.length === 2 ? told.map(({ name }) => name) : [worst.one.name], distance: worst.distance };
}

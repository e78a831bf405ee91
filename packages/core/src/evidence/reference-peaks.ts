import { Type, type Static } from 'typebox';
import type { MeasuredElement, ReferenceGrain } from './reference-grain.ts';
import { USUAL_SCATTER } from './reference-ratios.ts';

/** A grain held directly against a reference: the counts of their peaks, scaled to each other. */
export const ReferenceComparison = Type.Object({
  name: Type.String(),
  label: Type.String(),
  /** Peaks that differ, the surest first; none: indistinguishable at these counts. */
  differing: Type.Array(
    Type.Object({
      symbol: Type.String(),
      line: Type.Union([Type.String(), Type.Null()]),
      /** Counts of the grain over those of the reference, scaled; null where the reference has none. */
      times: Type.Union([Type.Number(), Type.Null()]),
      /** Standard deviations apart. */
      sigmas: Type.Number(),
    }),
  ),
});
export type ReferenceComparison = Static<typeof ReferenceComparison>;

/** Peaks differ beyond this many standard deviations: some dozens are compared. Chosen. */
const DIFFERS_FROM = 4;
/** Coats, resin and dirt bring carbon. */
const CARBON = 6;

interface Compared {
  readonly grain: MeasuredElement;
  readonly other: MeasuredElement;
}

export function comparedWith(
  { name, label, elements: others }: ReferenceGrain,
  elements: readonly MeasuredElement[],
): ReferenceComparison {
  const compared = elements.flatMap((grain): Compared[] => {
    const other = others.find(({ z }) => z === grain.z);
    return other && grain.z !== CARBON && (grain.present || other.present) ? [{ grain, other }] : [];
  });
  const scale = scaleOf(compared);
  const differing = compared
    .map(({ grain, other }) => {
      const there = scale * other.counts.value;
      const scatter = USUAL_SCATTER * Math.hypot(grain.counts.value, there);
      const sigma = Math.hypot(grain.counts.sigma, scale * other.counts.sigma, scatter);
      return {
        symbol: grain.symbol,
        line: (grain.present ? grain : other).line,
        times: there > 0 ? grain.counts.value / there : null,
        sigmas: Math.abs(grain.counts.value - there) / sigma,
      };
    })
    .filter(({ sigmas }) => sigmas > DIFFERS_FROM)
    .sort((a, b) => b.sigmas - a.sigmas);
  return { name, label, differing };
}

/** What the reference's counts are multiplied by: the median of the ratios, each weighing as its counts, so that one peak that differs moves nothing. */
function scaleOf(compared: readonly Compared[]): number {
  const ratios = compared
    .filter(({ grain, other }) => grain.present && other.present)
    .map(({ grain, other }) => ({
      ratio: grain.counts.value / other.counts.value,
      weight: Math.sqrt(grain.counts.value * other.counts.value),
    }))
    .sort((a, b) => a.ratio - b.ratio);
  const half = ratios.reduce((sum, { weight }) => sum + weight, 0) / 2;
  let sum = 0;
  for (const { ratio, weight } of ratios) {
    sum += weight;
    if (sum >= half) return ratio;
  }
  return 1;
}

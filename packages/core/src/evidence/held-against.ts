import { Type, type Static } from 'typebox';
import type { Finding } from '../identify/finding.ts';
import { measuredElements } from './measured-elements.ts';
import { type ReferenceGrain, type SetAside, type Taken, unfitFor } from './reference-grain.ts';
import { comparedWith, ReferenceComparison } from './reference-peaks.ts';
import { contradictedBy, ReferenceRatio, referenceRatios } from './reference-ratios.ts';

/** A grain held against one's own reference grains. */
export const HeldAgainst = Type.Object({
  ratios: Type.Array(ReferenceRatio),
  /** The most alike first. */
  compared: Type.Array(ReferenceComparison),
  /** References that say nothing here, each with the reason, one sentence. */
  setAside: Type.Array(Type.Object({ name: Type.String(), label: Type.String(), reason: Type.String() })),
});
export type HeldAgainst = Static<typeof HeldAgainst>;

/** Why a reference says nothing, as data. */
export interface SetAsideData extends Pick<
  ReferenceGrain,
  'name' | 'label' | 'beamKev' | 'takeOffDeg' | 'contradictions'
> {
  readonly why: SetAside;
}

export interface HeldAgainstData extends Omit<HeldAgainst, 'setAside'> {
  readonly setAside: readonly SetAsideData[];
}

/** Holds a grain against references that were taken as it was; those that are not what they are said to be are set aside. */
export function heldAgainst(
  references: readonly ReferenceGrain[],
  findings: readonly Finding[],
  taken: Taken,
): HeldAgainstData {
  const judged = references.map((reference) => ({ reference, why: unfitFor(reference, taken) }));
  const fit = judged.filter(({ why }) => why === null).map(({ reference }) => reference);
  const contradicted = contradictedBy(fit);
  const used = fit.filter(({ name }) => !contradicted.has(name));
  const elements = measuredElements(findings);
  return {
    ratios: referenceRatios(used, elements),
    compared: used
      .map((reference) => comparedWith(reference, elements))
      .sort((a, b) => apart(a) - apart(b) || (a.name < b.name ? -1 : 1)),
    setAside: judged.flatMap(({ reference, why }) => {
      const reason = why ?? (contradicted.has(reference.name) ? 'other-references' : null);
      const { name, label, beamKev, takeOffDeg, contradictions } = reference;
      return reason === null ? [] : [{ name, label, beamKev, takeOffDeg, contradictions, why: reason }];
    }),
  };
}

const apart = ({ differing }: ReferenceComparison): number =>
  differing.reduce((sum, { sigmas }) => sum + sigmas ** 2, 0);

/** Findings with the amounts that references give, in the sum that the standardless ones had. */
export function referencedFindings<Known extends Finding>(
  findings: readonly Known[],
  { ratios }: HeldAgainstData,
): readonly Known[] {
  const factors = factorsOf(ratios);
  const amountOf = ({ symbol, massFraction }: Known): number =>
    (massFraction?.value ?? 0) * (factors.get(symbol)?.by ?? 1);
  const total = (of: (finding: Known) => number): number => findings.reduce((sum, finding) => sum + of(finding), 0);
  const scale = total(({ massFraction }) => massFraction?.value ?? 0) / total(amountOf);
  return findings.map((finding) => {
    const { symbol, massFraction } = finding;
    const factor = factors.get(symbol);
    if (massFraction === null || ratios.length === 0) return finding;
    const by = scale * (factor?.by ?? 1);
    const { value, sigma } = massFraction;
    return {
      ...finding,
      massFraction: { value: value * by, sigma: sigma * by },
      ...(factor && { referenced: factor.doubt }),
    };
  });
}

/** What amounts are multiplied by, and their doubt but for the grain's counting, so that two of them make up that of their ratio. */
function factorsOf(ratios: readonly ReferenceRatio[]): ReadonlyMap<string, { by: number; doubt: number }> {
  const doubtOf = ({ value: { value, sigma }, counting }: ReferenceRatio): number =>
    Math.sqrt(Math.max(0, sigma ** 2 - counting ** 2)) / value;
  const shared = Math.min(...ratios.map(doubtOf)) / Math.SQRT2;
  const factors = new Map(
    ratios.map((ratio) => [
      ratio.numerator,
      { by: ratio.value.value / ratio.standardless, doubt: Math.sqrt(doubtOf(ratio) ** 2 - shared ** 2) },
    ]),
  );
  for (const { denominator } of ratios.slice(0, 1)) factors.set(denominator, { by: 1, doubt: shared });
  return factors;
}

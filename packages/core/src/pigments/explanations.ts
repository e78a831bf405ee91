import { inOrder, type PartOfGrain } from './colour-giving.ts';
import { lnCompanyOf } from './company.ts';
import type { Evidence } from './evidence.ts';
import { fitMixture, type Mixture } from './mixture.ts';
import { lnNitrogenOf, lnOxygenOf } from './oxygen.ts';
import type { Part } from './part.ts';
import { PRIORS } from './priors.ts';

/** A set of materials that explains a grain. */
export interface Explanation {
  readonly mixture: Mixture;
  /** The material of each part of the mixture: one of those that its fit does for. */
  readonly materials: readonly Part[];
  /** Fit of the amounts, priors, company, oxygen and what was seen besides, ln. */
  readonly lnWeight: number;
}

/** What else was seen of the grain, as ln P(observations | parts), colour-giving part first. */
export type ObservationTerm = (parts: readonly PartOfGrain[]) => number;

/** Materials tried in each place of a mixture: the likeliest there, the others as they are best. */
const TRIED_IN_PLACE = 5;
/** Explanations whose own materials are fitted, instead of those that stand for them in the mixture: this near the best, and no more. */
const REFITTED = { within: 7, most: 60 };

/**
 * Every mixture with the materials that its fit does for put in each place, best first.
 * @param same for each part of a mixture, the materials one fit does for, headed by the one that stands for them
 */
export function explanationsOf(
  mixtures: readonly Mixture[],
  same: ReadonlyMap<Part, readonly Part[]>,
  evidence: Evidence,
  observed?: ObservationTerm,
): Explanation[] {
  const lnGasesOf = (held: Float64Array): number => lnOxygenOf(evidence, held) + lnNitrogenOf(evidence, held);
  const weighed = (mixture: Mixture, materials: readonly Part[], lnGases: number): Explanation => {
    const parts = materials.map(({ material }, m) => ({ material, massFraction: mixture.fractions[m] }));
    const priors = materials.reduce((sum, { lnPrior }) => sum + lnPrior - PRIORS.part.value, 0);
    const besides = priors + lnCompanyOf(parts) + lnGases + (observed ? observed(inOrder(parts)) : 0);
    return { mixture, materials, lnWeight: mixture.lnAmounts + mixture.lnShares + besides };
  };
  // What stands for those like it has them put in its place: by itself each of them would be counted again.
  const heading = mixtures.filter(({ parts }) => parts.every((part) => same.get(part)![0] === part));
  const explanations = heading.flatMap((mixture) => {
    const lnGases = lnGasesOf(mixture.held);
    const places = mixture.parts.map((part, m) =>
      inPlace(mixture.parts, m, same.get(part)!, (materials) => weighed(mixture, materials, lnGases).lnWeight),
    );
    return combinations(places).map((materials) => weighed(mixture, materials, lnGases));
  });
  explanations.sort(bestFirst);
  const near = explanations.findIndex(({ lnWeight }) => lnWeight < explanations[0].lnWeight - REFITTED.within);
  const refitted = Math.min(near < 0 ? explanations.length : near, REFITTED.most);
  return explanations
    .map((explanation, i) => {
      const { mixture, materials } = explanation;
      if (i >= refitted || materials.every((part, m) => part === mixture.parts[m])) return explanation;
      const refit = fitMixture(evidence, materials, mixture.fractions);
      return weighed(refit, materials, lnGasesOf(refit.held));
    })
    .sort(bestFirst);
}

const bestFirst = (a: Explanation, b: Explanation): number => b.lnWeight - a.lnWeight;

/** The likeliest materials of one place, the others of the mixture as they stand. */
function inPlace(
  parts: readonly Part[],
  m: number,
  members: readonly Part[],
  lnWeight: (materials: readonly Part[]) => number,
): readonly Part[] {
  if (members.length <= TRIED_IN_PLACE) return members;
  return members
    .map((member) => ({ member, lnWeight: lnWeight(parts.with(m, member)) }))
    .sort((a, b) => b.lnWeight - a.lnWeight)
    .slice(0, TRIED_IN_PLACE)
    .map(({ member }) => member);
}

/** One of each list, in every way. */
function combinations<T>([first, ...rest]: readonly (readonly T[])[]): T[][] {
  if (first === undefined) return [[]];
  const others = combinations(rest);
  return first.flatMap((one) => others.map((other) => [one, ...other]));
}

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

/*
 * Whole loops of functions at hand: the engine keeps what it has compiled of those, and compiles what is made within a call again after
 * each full collection of garbage.
 */

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
  const explanations: Explanation[] = [];
  for (const mixture of mixtures) {
    // What stands for those like it has them put in its place: by itself each of them would be counted again.
    if (!areHeads(mixture.parts, same)) continue;
    const lnRest = lnGasesOf(mixture, evidence);
    const places: (readonly Part[])[] = [];
    for (let m = 0; m < mixture.parts.length; m++)
      places.push(inPlace(mixture, m, same.get(mixture.parts[m])!, lnRest, observed));
    for (const materials of combinations(places)) explanations.push(explained(mixture, materials, lnRest, observed));
  }
  explanations.sort(bestFirst);
  const least = explanations[0].lnWeight - REFITTED.within;
  for (let i = 0; i < Math.min(explanations.length, REFITTED.most) && explanations[i].lnWeight >= least; i++) {
    const { mixture, materials } = explanations[i];
    if (areSame(materials, mixture.parts)) continue;
    const refit = fitMixture(evidence, materials, mixture.fractions);
    explanations[i] = explained(refit, materials, lnGasesOf(refit, evidence), observed);
  }
  return explanations.sort(bestFirst);
}

const bestFirst = (a: Explanation, b: Explanation): number => b.lnWeight - a.lnWeight;

function areHeads(parts: readonly Part[], same: ReadonlyMap<Part, readonly Part[]>): boolean {
  for (const part of parts) if (same.get(part)![0] !== part) return false;
  return true;
}

function areSame(parts: readonly Part[], others: readonly Part[]): boolean {
  for (let m = 0; m < parts.length; m++) if (parts[m] !== others[m]) return false;
  return true;
}

const lnGasesOf = ({ held }: Mixture, evidence: Evidence): number =>
  lnOxygenOf(evidence, held) + lnNitrogenOf(evidence, held);

/** @param lnRest what the gases say */
function explained(
  mixture: Mixture,
  materials: readonly Part[],
  lnRest: number,
  observed: ObservationTerm | undefined,
): Explanation {
  return { mixture, materials, lnWeight: lnWeightOf(mixture, materials, lnRest, observed) };
}

function lnWeightOf(
  { fractions, lnAmounts, lnShares }: Mixture,
  materials: readonly Part[],
  lnRest: number,
  observed: ObservationTerm | undefined,
): number {
  let lnPriors = 0;
  for (let m = 0; m < materials.length; m++) lnPriors += materials[m].lnPrior - PRIORS.part.value;
  const lnSeen = observed ? observed(inOrder(partsOf(materials, fractions))) : 0;
  const besides = lnPriors + lnCompanyOf(materials, fractions) + lnRest + lnSeen;
  return lnAmounts + lnShares + besides;
}

function partsOf(materials: readonly Part[], fractions: Float64Array): PartOfGrain[] {
  const parts: PartOfGrain[] = [];
  for (let m = 0; m < materials.length; m++)
    parts.push({ material: materials[m].material, massFraction: fractions[m] });
  return parts;
}

/** A material in a place, by what it makes of the whole. */
interface Placed {
  readonly member: Part;
  readonly lnWeight: number;
}

/** The likeliest materials of one place, the others of the mixture as they stand. */
function inPlace(
  mixture: Mixture,
  m: number,
  members: readonly Part[],
  lnRest: number,
  observed: ObservationTerm | undefined,
): readonly Part[] {
  if (members.length <= TRIED_IN_PLACE) return members;
  const placed: Placed[] = [];
  for (const member of members)
    placed.push({ member, lnWeight: lnWeightOf(mixture, mixture.parts.with(m, member), lnRest, observed) });
  placed.sort(likeliestFirst);
  const likeliest: Part[] = [];
  for (let k = 0; k < TRIED_IN_PLACE; k++) likeliest.push(placed[k].member);
  return likeliest;
}

const likeliestFirst = (a: Placed, b: Placed): number => b.lnWeight - a.lnWeight;

/** One of each list, in every way: those of the last list by turns soonest. */
function combinations(lists: readonly (readonly Part[])[]): Part[][] {
  let made: Part[][] = [[]];
  for (const list of lists) {
    const longer: Part[][] = [];
    for (const before of made) for (const one of list) longer.push([...before, one]);
    made = longer;
  }
  return made;
}

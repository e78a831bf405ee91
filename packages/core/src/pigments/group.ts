import { exp, log } from '../arithmetic/exponential.ts';
import { areAlike } from './alike.ts';
import type { Explanation } from './explanations.ts';
import type { Material } from './knowledge.ts';
import { PRIORS } from './priors.ts';
import { type Gathering, gathered, type Shared } from './same-grain.ts';
import type { Candidate, Weighed } from './weigh.ts';

/** Allowed materials that these amounts cannot tell apart, most likely first. */
export interface Group {
  readonly members: readonly Candidate[];
  readonly score: number;
}

/** Explanations that tell the same grain. */
export interface Combination {
  /** The one that stands for them. */
  readonly best: Explanation;
  /** Group of each part of the best. */
  readonly groups: readonly Group[];
  /** Share of the weight of all explanations. */
  readonly score: number;
  /** All of them, best first, with their shares of the weight of all. */
  readonly explanations: readonly Shared[];
  readonly perhaps: Gathering['perhaps'];
}

export interface Grouped {
  /** Best first. */
  readonly groups: readonly Group[];
  /** Best first, no more than are told; never empty. */
  readonly combinations: readonly Combination[];
  /** All explanations, best first. */
  readonly shared: readonly Shared[];
}

/** Classes by how readily one thinks of them for a grain of paint: only between equals. */
const USUAL_FIRST = ['pigment', 'lake', 'ground', 'metal', 'filler', 'drier', 'alteration', 'contaminant'];
/** Members of a group whose weights differ by less than this factor are equals. Chosen. */
const EQUAL = log(3);
/** A group's members weigh no less than a twentieth of its head: what spreads widely is like much, but explains it worse. Chosen. */
const MEMBER = log(20);
const OFTEN_FIRST: readonly Material['usualness'][] = ['common', 'occasional', 'rare'];
/** Years of use beyond which more do not make a material more usual, and the end of what is still in use. Chosen. */
const LONG_USE = 2000;
const PRESENT = 2000;

/**
 * The allowed materials in groups, and what combinations of materials explain the grain. A group is headed by the best material not
 * yet in one; within it, the likelier stands first, and equals in the order of how usual they are, of their class, then of how long
 * they were in use, then of the materials' file. A combination is what tells the same grain, a family counting as one.
 */
export function grouped({ candidates, evidence, explanations }: Weighed): Grouped {
  const usual = usualFirst(candidates);
  const heaviest = heaviestFirst(usual);
  const lists: Candidate[][] = [];
  for (const candidate of candidates.filter(({ allowed, best }) => allowed && best !== null).sort(heaviest)) {
    const list = lists.find(
      ([head]) =>
        head.best!.lnAmounts - candidate.best!.lnAmounts < MEMBER && areAlike(head.alone!, candidate.alone!, evidence),
    );
    if (list) list.push(candidate);
    else lists.push([candidate]);
  }
  const listOf = new Map(lists.flatMap((list, place) => list.map(({ part }) => [part, place] as const)));
  const told = explanations.filter(({ materials }) => materials.every((part) => listOf.has(part)));
  const relative = (lnWeight: number): number => exp(lnWeight - explanations[0].lnWeight);
  const total = told.reduce((sum, { lnWeight }) => sum + relative(lnWeight), 0);
  const shared = told.map(({ mixture, materials, lnWeight }): Shared => {
    return { mixture, materials, lnWeight, share: relative(lnWeight) / total };
  });
  const likeliest = bestWeights(shared);
  for (const list of lists) list.sort(likeliestFirst(likeliest, equalsBy(usual, list[0])));
  const sums = sharesOf(lists.length, listOf, shared);
  const tested = lists.map((members, place): Group => {
    const beside = relative(Math.max(...members.map(({ best }) => best!.lnWeight)));
    return { members, score: Math.min(1, sums[place] || beside / (total + beside)) };
  });
  const hidden = candidates.filter(({ allowed, untestable }) => allowed && untestable).sort(usual);
  const bare = explanations.find(({ materials }) => materials.length === 0)?.lnWeight ?? -Infinity;
  const hiddenWeight = relative(bare + PRIORS.part.value + PRIORS.occasional.value);
  const groups =
    hidden.length > 0 ? [...tested, { members: hidden, score: hiddenWeight / (total + hiddenWeight) }] : tested;
  const groupOf = new Map(tested.flatMap((group) => group.members.map(({ part }) => [part, group] as const)));
  return {
    groups: groups.toSorted((a, b) => b.score - a.score || heaviest(a.members[0], b.members[0])),
    combinations: gathered(usualOfEqualsFirst(shared, candidates, usual), MOST_COMBINATIONS).map(
      ({ explanations: own, perhaps }) => ({
        best: own[0],
        groups: own[0].materials.map((part) => groupOf.get(part)!),
        score: own.reduce((sum, { share }) => sum + share, 0),
        explanations: own,
        perhaps,
      }),
    ),
    shared,
  };
}

/** The share of the weight of all explanations that need a material of each list. @param listOf place of the list of each material */
function sharesOf(
  lists: number,
  listOf: ReadonlyMap<Candidate['part'], number>,
  shared: readonly Shared[],
): Float64Array {
  const sums = new Float64Array(lists);
  for (const { materials, share } of shared) {
    const places = materials.map((part) => listOf.get(part)!);
    for (let m = 0; m < places.length; m++) if (places.indexOf(places[m]) === m) sums[places[m]] += share;
  }
  return sums;
}

/** Combinations made: what is left weighs little, and none of it is told. */
const MOST_COMBINATIONS = 6;

/** Explanations whose weights differ by less than this, ln, are equals: a tenth is far below what the amounts know. Chosen. */
const EVEN = 0.1;

/** Of those that are as likely as the best, with as many materials, the most usual by their materials in turn stands first. */
function usualOfEqualsFirst(shared: readonly Shared[], candidates: readonly Candidate[], usual: Order): Shared[] {
  const byPart = new Map(candidates.map((candidate) => [candidate.part, candidate]));
  const order = (a: Shared, b: Shared): number =>
    a.materials.reduce((sum, part, m) => sum || usual(byPart.get(part)!, byPart.get(b.materials[m])!), 0);
  const [first] = shared
    .filter(({ lnWeight }) => lnWeight > shared[0].lnWeight - EVEN)
    .filter(({ mixture }) => mixture.parts.length === shared[0].mixture.parts.length)
    .sort(order);
  return first === undefined ? [] : [first, ...shared.filter((one) => one !== first)];
}

type Order = (a: Candidate, b: Candidate) => number;

/** The usual material first, then the usual class, then what was longest in use, then the order of the materials. */
function usualFirst(candidates: readonly Candidate[]): Order {
  const place = new Map(candidates.map((candidate, index) => [candidate, index]));
  const often = ({ material }: Candidate): number => OFTEN_FIRST.indexOf(material.usualness);
  const usual = ({ material }: Candidate): number => USUAL_FIRST.indexOf(material.class);
  return (a, b) =>
    often(a) - often(b) || usual(a) - usual(b) || yearsOfUse(b) - yearsOfUse(a) || place.get(a)! - place.get(b)!;
}

/** Up to LONG_USE; 0 where its beginning is not known. */
function yearsOfUse({ material: { earliest, latest } }: Candidate): number {
  return earliest === null ? 0 : Math.min(LONG_USE, (latest ?? PRESENT) - earliest);
}

function heaviestFirst(otherwise: Order): Order {
  const lnAmounts = ({ best }: Candidate): number => best?.lnAmounts ?? -Infinity;
  return (a, b) => (lnAmounts(a) === lnAmounts(b) ? otherwise(a, b) : lnAmounts(b) - lnAmounts(a));
}

/** The ln weight of the best explanation that each material is part of. */
function bestWeights(shared: readonly Shared[]): Map<Candidate['part'], number> {
  const best = new Map<Candidate['part'], number>();
  for (const { materials, lnWeight } of shared)
    for (const part of materials) best.set(part, Math.max(best.get(part) ?? -Infinity, lnWeight));
  return best;
}

/** By those, to within what makes equals. */
function likeliestFirst(best: ReadonlyMap<Candidate['part'], number>, otherwise: Order): Order {
  const step = ({ part }: Candidate): number => Math.floor(-(best.get(part) ?? -1e6) / EQUAL);
  return (a, b) => step(a) - step(b) || otherwise(a, b);
}

/** Equals of a group in the other order. */
function equalsBy(otherwise: Order, head: Candidate): Order {
  const step = ({ best }: Candidate): number => Math.floor((head.best!.lnAmounts - best!.lnAmounts) / EQUAL);
  return (a, b) => step(a) - step(b) || otherwise(a, b);
}

import { exp, log } from '../arithmetic/exponential.ts';
import { areAlike } from './alike.ts';
import type { Evidence } from './evidence.ts';
import type { Explanation } from './explanations.ts';
import type { Material } from './knowledge.ts';
import type { Part } from './part.ts';
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

/** A candidate as it is put in order; lower stands first. */
interface Ranked {
  readonly candidate: Candidate;
  /** How usual it is, then its class, then how long it was in use; then its place among the materials. */
  readonly usual: number;
  readonly place: number;
  readonly lnAmounts: number;
  /** How likely it is, and how much it is worse than the head of its group, in steps of what makes equals. */
  likely: number;
  worse: number;
}

const usualFirst = (a: Ranked, b: Ranked): number => a.usual - b.usual || a.place - b.place;
const heaviestFirst = (a: Ranked, b: Ranked): number =>
  a.lnAmounts === b.lnAmounts ? usualFirst(a, b) : b.lnAmounts - a.lnAmounts;
const likeliestFirst = (a: Ranked, b: Ranked): number => a.likely - b.likely || a.worse - b.worse || usualFirst(a, b);

/**
 * The allowed materials in groups, and what combinations of materials explain the grain. A group is headed by the best material not
 * yet in one; within it, the likelier stands first, and equals in the order of how usual they are, of their class, then of how long
 * they were in use, then of the materials' file. A combination is what tells the same grain, a family counting as one.
 */
export function grouped({ candidates, evidence, explanations }: Weighed): Grouped {
  const ranked = candidates.map(rankedAt);
  const lists = alikeLists(ranked, evidence);
  const listOf = new Map<Part, number>();
  for (let k = 0; k < lists.length; k++) for (const { candidate } of lists[k]) listOf.set(candidate.part!, k);
  const { shared, total } = sharedAmong(explanations, listOf);
  const { lnWeight: most } = explanations[0];
  orderWithin(lists, shared);
  const sums = sharesOf(lists.length, listOf, shared);
  const tested = lists.map((members, k): Group => {
    const beside = exp(heaviestIn(members) - most);
    return { members: members.map(candidateOf), score: Math.min(1, sums[k] || beside / (total + beside)) };
  });
  const hidden = ranked.filter(isHidden).sort(usualFirst).map(candidateOf);
  const bare = explanations.find(({ materials }) => materials.length === 0)?.lnWeight ?? -Infinity;
  const hiddenWeight = exp(bare + PRIORS.part.value + PRIORS.occasional.value - most);
  const groups =
    hidden.length > 0 ? [...tested, { members: hidden, score: hiddenWeight / (total + hiddenWeight) }] : tested;
  const rankOf = new Map(ranked.map((one) => [one.candidate.material, one]));
  const headOf = ({ members: [{ material }] }: Group): Ranked => rankOf.get(material)!;
  return {
    groups: groups.toSorted((a, b) => b.score - a.score || heaviestFirst(headOf(a), headOf(b))),
    combinations: gathered(usualOfEqualsFirst(shared, rankOf), MOST_COMBINATIONS).map(
      ({ explanations: own, perhaps }) => ({
        best: own[0],
        groups: own[0].materials.map((part) => tested[listOf.get(part)!]),
        score: own.reduce((sum, { share }) => sum + share, 0),
        explanations: own,
        perhaps,
      }),
    ),
    shared,
  };
}

const candidateOf = ({ candidate }: Ranked): Candidate => candidate;
const isHidden = ({ candidate: { allowed, untestable } }: Ranked): boolean => allowed && untestable;

function rankedAt(candidate: Candidate, place: number): Ranked {
  const lnAmounts = candidate.best?.lnAmounts ?? -Infinity;
  return { candidate, usual: usualOf(candidate.material), place, lnAmounts, likely: 0, worse: 0 };
}

const USUAL = new WeakMap<Material, number>();

function usualOf(material: Material): number {
  let usual = USUAL.get(material);
  if (usual === undefined) {
    const often = OFTEN_FIRST.indexOf(material.usualness);
    const kind = USUAL_FIRST.indexOf(material.class);
    usual = (often * (USUAL_FIRST.length + 1) + kind) * (LONG_USE + 1) - yearsOfUse(material);
    USUAL.set(material, usual);
  }
  return usual;
}

/** Up to LONG_USE; 0 where its beginning is not known. */
function yearsOfUse({ earliest, latest }: Material): number {
  return earliest === null ? 0 : Math.min(LONG_USE, (latest ?? PRESENT) - earliest);
}

/** Materials that are like the best of them, best lists first. */
function alikeLists(ranked: readonly Ranked[], evidence: Evidence): Ranked[][] {
  const lists: Ranked[][] = [];
  const tested = ranked.filter(({ candidate: { allowed, best } }) => allowed && best !== null);
  for (const one of tested.sort(heaviestFirst)) {
    const list = listFor(one, lists, evidence);
    if (list === undefined) lists.push([one]);
    else list.push(one);
  }
  return lists;
}

function listFor(one: Ranked, lists: readonly Ranked[][], evidence: Evidence): Ranked[] | undefined {
  for (const list of lists) {
    const [head] = list;
    if (head.lnAmounts - one.lnAmounts >= MEMBER) continue;
    if (areAlike(head.candidate.alone!, one.candidate.alone!, evidence)) return list;
  }
  return undefined;
}

/** Explanations by materials of the lists alone, with their shares of the weight of all of them; that weight, the best of all as 1. */
function sharedAmong(
  explanations: readonly Explanation[],
  listOf: ReadonlyMap<Part, number>,
): { readonly shared: Shared[]; readonly total: number } {
  const told: Explanation[] = [];
  const weights: number[] = [];
  let total = 0;
  for (const one of explanations) {
    if (!areIn(one.materials, listOf)) continue;
    const weight = exp(one.lnWeight - explanations[0].lnWeight);
    told.push(one);
    weights.push(weight);
    total += weight;
  }
  const shared: Shared[] = [];
  for (let i = 0; i < told.length; i++) {
    const { mixture, materials, lnWeight } = told[i];
    shared.push({ mixture, materials, lnWeight, share: weights[i] / total });
  }
  return { shared, total };
}

function areIn(parts: readonly Part[], listOf: ReadonlyMap<Part, number>): boolean {
  for (const part of parts) if (!listOf.has(part)) return false;
  return true;
}

/** The likelier first, by the best explanation that each is part of; equals by how much they are worse than the head. */
function orderWithin(lists: readonly Ranked[][], shared: readonly Shared[]): void {
  const best = new Map<Part, number>();
  for (const { materials, lnWeight } of shared)
    for (const part of materials) if (!(best.get(part)! >= lnWeight)) best.set(part, lnWeight);
  for (const list of lists) {
    const head = list[0].lnAmounts;
    for (const one of list) {
      one.likely = Math.floor(-(best.get(one.candidate.part!) ?? -1e6) / EQUAL);
      one.worse = Math.floor((head - one.lnAmounts) / EQUAL);
    }
    list.sort(likeliestFirst);
  }
}

function heaviestIn(members: readonly Ranked[]): number {
  let most = -Infinity;
  for (const { candidate } of members) most = Math.max(most, candidate.best!.lnWeight);
  return most;
}

/** The share of the weight of all explanations that need a material of each list. @param listOf place of the list of each material */
function sharesOf(lists: number, listOf: ReadonlyMap<Part, number>, shared: readonly Shared[]): Float64Array {
  const sums = new Float64Array(lists);
  for (const { materials, share } of shared) {
    for (let m = 0; m < materials.length; m++) {
      const place = listOf.get(materials[m])!;
      let before = 0;
      while (listOf.get(materials[before]) !== place) before++;
      if (before === m) sums[place] += share;
    }
  }
  return sums;
}

/** Combinations made: what is left weighs little, and none of it is told. */
const MOST_COMBINATIONS = 6;

/** Explanations whose weights differ by less than this, ln, are equals: a tenth is far below what the amounts know. Chosen. */
const EVEN = 0.1;

/** Of those that are as likely as the best, with as many materials, the most usual by their materials in turn stands first. */
function usualOfEqualsFirst(shared: readonly Shared[], rankOf: ReadonlyMap<Material, Ranked>): Shared[] {
  if (shared.length === 0) return [];
  let [first] = shared;
  for (const one of shared) {
    if (!(one.lnWeight > shared[0].lnWeight - EVEN)) break;
    if (one.mixture.parts.length === first.mixture.parts.length && isMoreUsual(one, first, rankOf)) first = one;
  }
  return [first, ...shared.filter((one) => one !== first)];
}

function isMoreUsual(a: Shared, b: Shared, rankOf: ReadonlyMap<Material, Ranked>): boolean {
  for (let m = 0; m < a.materials.length; m++) {
    const order = usualFirst(rankOf.get(a.materials[m].material)!, rankOf.get(b.materials[m].material)!);
    if (order !== 0) return order < 0;
  }
  return false;
}

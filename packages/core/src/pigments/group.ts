import { areAlike } from './alike.ts';
import type { Material } from './knowledge.ts';
import { type Mixture, PART_PENALTY } from './mixture.ts';
import type { Candidate, Weighed } from './weigh.ts';

/** Allowed materials that these amounts cannot tell apart, most likely first. */
export interface Group {
  readonly members: readonly Candidate[];
  readonly score: number;
}

/** The best mixture of its combination of groups. */
export interface Combination {
  readonly mixture: Mixture;
  /** Group of each part. */
  readonly groups: readonly Group[];
  /** Share of the weight of all combinations. */
  readonly score: number;
}

export interface Grouped {
  /** Best first. */
  readonly groups: readonly Group[];
  /** Best first; never empty. */
  readonly combinations: readonly Combination[];
}

/** Classes by how readily one thinks of them for a grain of paint: only between equals. */
const USUAL_FIRST = ['pigment', 'lake', 'ground', 'metal', 'filler', 'drier', 'alteration', 'contaminant'];
/** Members of a group whose weights differ by less than this factor are equals. Chosen. */
const EQUAL = Math.log(3);
/** A group's members weigh no less than a twentieth of its head: what spreads widely is like much, but explains it worse. Chosen. */
const MEMBER = Math.log(20);
const OFTEN_FIRST: readonly Material['usualness'][] = ['common', 'occasional', 'rare'];
/** Years of use beyond which more do not make a material more usual, and the end of what is still in use. Chosen. */
const LONG_USE = 2000;
const PRESENT = 2000;

/**
 * The allowed materials in groups, and what combinations of groups explain the grain. A group is headed by the best material not
 * yet in one; within it, equals stand in the order of how usual they are, of their class, then of how long they were in use, then of the materials' file. A combination weighs as much as
 * its best mixture, so that many like materials gain nothing by their number.
 */
export function grouped({ candidates, evidence, mixtures, same }: Weighed): Grouped {
  const usual = usualFirst(candidates);
  const heaviest = heaviestFirst(usual);
  const lists: Candidate[][] = [];
  for (const candidate of candidates.filter(({ allowed, best }) => allowed && best !== null).sort(heaviest)) {
    const list = lists.find(
      ([head]) =>
        head.best!.lnWeight - candidate.best!.lnWeight < MEMBER && areAlike(head.alone!, candidate.alone!, evidence),
    );
    if (list) list.push(candidate);
    else lists.push([candidate]);
  }
  for (const list of lists) list.sort(equalsBy(usual, list[0]));
  const combined = combine(lists, mixtures, same);
  const best = mixtures[0].lnWeight;
  const total = combined.reduce((sum, { lnWeight }) => sum + Math.exp(lnWeight - best), 0);
  const share = (lnWeight: number): number => Math.min(1, Math.exp(lnWeight - best) / total);
  const tested = lists.map((members): Group => {
    const needing = combined.filter((combination) => combination.lists.includes(members));
    const sum = needing.reduce((part, { lnWeight }) => part + share(lnWeight), 0);
    return { members, score: Math.min(1, sum || share(bestOf(members))) };
  });
  const hidden = candidates.filter(({ allowed, untestable }) => allowed && untestable).sort(usual);
  const bare = mixtures.find(({ parts }) => parts.length === 0)?.lnWeight ?? -Infinity;
  const groups = hidden.length > 0 ? [...tested, { members: hidden, score: share(bare - PART_PENALTY) }] : tested;
  return {
    groups: groups.toSorted((a, b) => b.score - a.score || heaviest(a.members[0], b.members[0])),
    combinations: combined.map((combination) => ({
      mixture: combination.mixture,
      groups: combination.lists.map((list) => tested[lists.indexOf(list)]),
      score: share(combination.lnWeight),
    })),
  };
}

interface Combined {
  /** The best, or the one of the more usual materials among its equals. */
  readonly mixture: Mixture;
  /** Of the best. */
  readonly lnWeight: number;
  /** Sum of the places of its materials in their groups. */
  readonly usual: number;
  readonly lists: readonly Candidate[][];
}

/** The best mixture of each combination of lists; mixtures with a part of none are left out. */
function combine(lists: readonly Candidate[][], mixtures: readonly Mixture[], same: Weighed['same']): Combined[] {
  const listOf = new Map(lists.flatMap((list) => list.map(({ part }) => [part, list] as const)));
  const combined = new Map<string, Combined>();
  for (const mixture of mixtures) {
    const found = mixture.parts.map((part) => {
      const allowed = listOf.has(part) ? part : same.get(part)!.find((other) => listOf.has(other));
      return allowed === undefined ? undefined : listOf.get(allowed);
    });
    const own = found.filter((list) => list !== undefined);
    if (own.length < found.length) continue;
    const key = own
      .map((list) => lists.indexOf(list))
      .sort((a, b) => a - b)
      .join(' ');
    const known = combined.get(key);
    const usual = placesOf(mixture, own, same);
    if (known === undefined) combined.set(key, { mixture, lists: own, lnWeight: mixture.lnWeight, usual });
    else if (usual < known.usual && known.lnWeight - mixture.lnWeight < EQUAL)
      combined.set(key, { ...known, mixture, lists: own, usual });
  }
  return [...combined.values()];
}

function placesOf({ parts }: Mixture, lists: readonly Candidate[][], same: Weighed['same']): number {
  return parts.reduce((sum, part, m) => sum + lists[m].findIndex((member) => same.get(part)!.includes(member.part)), 0);
}

function bestOf(members: readonly Candidate[]): number {
  return Math.max(...members.map(({ best }) => best!.lnWeight));
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
  const lnWeight = ({ best }: Candidate): number => best?.lnWeight ?? -Infinity;
  return (a, b) => (lnWeight(a) === lnWeight(b) ? otherwise(a, b) : lnWeight(b) - lnWeight(a));
}

/** Equals of a group in the other order. */
function equalsBy(otherwise: Order, head: Candidate): Order {
  const step = ({ best }: Candidate): number => Math.floor((head.best!.lnWeight - best!.lnWeight) / EQUAL);
  return (a, b) => step(a) - step(b) || otherwise(a, b);
}

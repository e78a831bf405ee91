import { exp, log } from '../arithmetic/exponential.ts';
import { areAlike } from './alike.ts';
import type { Explanation } from './explanations.ts';
import type { Material } from './knowledge.ts';
import { PRIORS } from './priors.ts';
import type { Candidate, Weighed } from './weigh.ts';

/** Allowed materials that these amounts cannot tell apart, most likely first. */
export interface Group {
  readonly members: readonly Candidate[];
  readonly score: number;
}

/** Explanations of the same groups. */
export interface Combination {
  /** The best of them. */
  readonly best: Explanation;
  /** Group of each part of the best. */
  readonly groups: readonly Group[];
  /** Share of the weight of all combinations. */
  readonly score: number;
  /** All of them, best first, with their shares of the weight of all. */
  readonly explanations: readonly Shared[];
}

/** An explanation with its share of the weight of all. */
export interface Shared extends Explanation {
  readonly share: number;
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
const EQUAL = log(3);
/** A group's members weigh no less than a twentieth of its head: what spreads widely is like much, but explains it worse. Chosen. */
const MEMBER = log(20);
const OFTEN_FIRST: readonly Material['usualness'][] = ['common', 'occasional', 'rare'];
/** Years of use beyond which more do not make a material more usual, and the end of what is still in use. Chosen. */
const LONG_USE = 2000;
const PRESENT = 2000;

/**
 * The allowed materials in groups, and what combinations of groups explain the grain. A group is headed by the best material not
 * yet in one; within it, the likelier stands first, and equals in the order of how usual they are, of their class, then of how long
 * they were in use, then of the materials' file. A combination weighs as much as its best explanation, so that many like materials
 * gain nothing by their number; its explanations share that weight.
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
  const combined = combine(lists, explanations).map((one) => usualOfEqualsFirst(one, usual));
  const total = combined.reduce((sum, { weight }) => sum + weight, 0);
  for (const list of lists) list.sort(likeliestFirst(combined, equalsBy(usual, list[0])));
  const tested = lists.map((members): Group => {
    const needing = combined.filter((combination) => combination.lists.includes(members));
    const sum = needing.reduce((part, { weight }) => part + weight / total, 0);
    const beside = exp(Math.max(...members.map(({ best }) => best!.lnWeight)) - explanations[0].lnWeight);
    return { members, score: Math.min(1, sum || beside / (total + beside)) };
  });
  const hidden = candidates.filter(({ allowed, untestable }) => allowed && untestable).sort(usual);
  const bare = explanations.find(({ materials }) => materials.length === 0)?.lnWeight ?? -Infinity;
  const hiddenWeight = exp(bare + PRIORS.part.value + PRIORS.occasional.value - explanations[0].lnWeight);
  const groups =
    hidden.length > 0 ? [...tested, { members: hidden, score: hiddenWeight / (total + hiddenWeight) }] : tested;
  return {
    groups: groups.toSorted((a, b) => b.score - a.score || heaviest(a.members[0], b.members[0])),
    combinations: combined.map((combination) => {
      const whole = combination.explanations.reduce((sum, { lnWeight }) => sum + relative(lnWeight, combination), 0);
      const score = combination.weight / total;
      return {
        best: combination.explanations[0],
        groups: combination.lists.map((list) => tested[lists.indexOf(list)]),
        score,
        explanations: combination.explanations.map((one) => ({
          ...one,
          share: (score * relative(one.lnWeight, combination)) / whole,
        })),
      };
    }),
  };
}

interface Combined {
  /** Best first. */
  readonly explanations: readonly Explanation[];
  readonly lists: readonly Candidate[][];
  /** Of its best explanation, against the best of all. */
  readonly weight: number;
}

const relative = (lnWeight: number, { explanations }: Combined): number => exp(lnWeight - explanations[0].lnWeight);

/** The explanations of each combination of lists, best first; those with a material of none are left out. */
function combine(lists: readonly Candidate[][], explanations: readonly Explanation[]): Combined[] {
  const listOf = new Map(lists.flatMap((list) => list.map(({ part }) => [part, list] as const)));
  const combined = new Map<string, { explanations: Explanation[]; lists: Candidate[][] }>();
  for (const explanation of explanations) {
    const own = explanation.materials.flatMap((part) => {
      const list = listOf.get(part);
      return list === undefined ? [] : [list];
    });
    if (own.length < explanation.materials.length) continue;
    const key = own
      .map((list) => lists.indexOf(list))
      .sort((a, b) => a - b)
      .join(' ');
    const known = combined.get(key);
    if (known === undefined) combined.set(key, { explanations: [explanation], lists: own });
    else known.explanations.push(explanation);
  }
  return [...combined.values()].map((one) => ({
    ...one,
    weight: exp(one.explanations[0].lnWeight - explanations[0].lnWeight),
  }));
}

/** Explanations whose weights differ by less than this, ln, are equals: a tenth is far below what the amounts know. Chosen. */
const EVEN = 0.1;

/** The most usual of the best, by their materials in turn, stands first. */
function usualOfEqualsFirst(combined: Combined, usual: Order): Combined {
  const { explanations, lists } = combined;
  const candidates = new Map(lists.flat().map((candidate) => [candidate.part, candidate]));
  const order = (a: Explanation, b: Explanation): number =>
    a.materials.reduce((sum, part, m) => sum || usual(candidates.get(part)!, candidates.get(b.materials[m])!), 0);
  const even = explanations.filter(({ lnWeight }) => lnWeight > explanations[0].lnWeight - EVEN);
  const [first] = even
    .filter(({ mixture }) => mixture.parts.length === explanations[0].mixture.parts.length)
    .sort(order);
  return { ...combined, explanations: [first, ...explanations.filter((one) => one !== first)] };
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

/** By the best explanation that a material is part of, to within what makes equals. */
function likeliestFirst(combined: readonly Combined[], otherwise: Order): Order {
  const best = new Map<Candidate['part'], number>();
  for (const { explanations } of combined)
    for (const { materials, lnWeight } of explanations)
      for (const part of materials) best.set(part, Math.max(best.get(part) ?? -Infinity, lnWeight));
  const step = ({ part }: Candidate): number => Math.floor(-(best.get(part) ?? -1e6) / EQUAL);
  return (a, b) => step(a) - step(b) || otherwise(a, b);
}

/** Equals of a group in the other order. */
function equalsBy(otherwise: Order, head: Candidate): Order {
  const step = ({ best }: Candidate): number => Math.floor((head.best!.lnAmounts - best!.lnAmounts) / EQUAL);
  return (a, b) => step(a) - step(b) || otherwise(a, b);
}

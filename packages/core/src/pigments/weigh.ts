import { log } from '../arithmetic/exponential.ts';
import type { Finding } from '../identify/finding.ts';
import { sameParts } from './alike.ts';
import { explanationsOf, type Explanation, type ObservationTerm } from './explanations.ts';
import { type Evidence, evidenceOf, LIGHTEST_TELLING_Z, reduced } from './evidence.ts';
import { Fits } from './fits.ts';
import type { Material } from './knowledge.ts';
import { fitMixture, type Mixture } from './mixture.ts';
import { isTellingMaterial, madeOf } from './made.ts';
import { type Part, partOf } from './part.ts';
import { PRIORS } from './priors.ts';
import { isWorthTrying, type Room, roomOf } from './room.ts';
import { leastLoss, searchMixtures } from './search.ts';

/** A material whose best explanation is this far below the best of all by the amounts, a three-hundredth, is ruled out. Chosen. */
export const MOST_BELOW = log(300);
/** Part of the grain which a material that is not needed must be able to make up. */
export const FAIR_PART = 0.25;
/** Explanations beside whose parts a material that is not needed is tried. */
const TRIED_BESIDE = 3;

/** A material weighed against one spectrum. */
export interface Candidate {
  readonly material: Material;
  readonly room: Room;
  /** As the amounts see it; null where its elements leave no room worth a fit, or nothing telling is in it. */
  readonly part: Part | null;
  /** Alone at its best amount; null as for `part`. */
  readonly alone: Mixture | null;
  /** The best explanation that holds it; null as for `part`. */
  readonly best: Mixture | null;
  /** That explanation needs it; else it is only compatible with being a fair part beside the others. */
  readonly needed: boolean;
  /** All of it that could tell is carbon, nitrogen and oxygen, as in resin, medium and coating, or hidden from this spectrum. */
  readonly untestable: boolean;
  readonly allowed: boolean;
}

export interface Weighed {
  readonly evidence: Evidence;
  /** Sets of materials, best first. Never empty. */
  readonly explanations: readonly Explanation[];
  /** In the order of the materials. */
  readonly candidates: readonly Candidate[];
  /** Explanations in which every part is needed, best first; one stands for all that one fit does for. Never empty. */
  readonly mixtures: readonly Mixture[];
  /** The most that the amounts alone say for any of them. */
  readonly most: number;
}

export interface WeighOptions {
  /** The detector sits behind a thick window of a thickness that nothing tells: carbon, nitrogen and oxygen say nothing. */
  readonly unknownWindow?: boolean;
}

/**
 * Weighs all materials, alone and in mixtures of up to four, against what the findings say of the amounts: once, for whatever else was
 * seen of the grain.
 */
export function weigher(
  findings: readonly Finding[],
  materials: readonly Material[],
  { unknownWindow }: WeighOptions = {},
): (observed?: ObservationTerm) => Weighed {
  const all = evidenceOf(findings, unknownWindow);
  const { hidden, worth, places } = roomsIn(all, materials);
  const evidence = reduced(all, places);
  const fits = new Fits(evidence);
  // The likelier of those that one fit does for stands for them.
  const likeliest = worth.map((material) => partOf(material, evidence)).sort(likeliestFirst);
  const alone = new Map<Part, Mixture>();
  for (const part of likeliest) alone.set(part, fits.of([part]));
  const groups = sameParts(alone, evidence);
  const mixtures = searchMixtures(
    fits,
    groups.map(([head]) => head),
  );
  const same = new Map<Part, readonly Part[]>();
  for (const group of groups) for (const part of group) same.set(part, group);
  const best = bestOfEach(groups, neededIn(mixtures, fits), evidence);
  const most = mostOf(mixtures);
  const parts = new Map<Material, Part>();
  for (const part of likeliest) parts.set(part.material, part);
  const candidates: Candidate[] = [];
  for (const material of materials) {
    const part = parts.get(material);
    if (part === undefined) candidates.push(untried(material, hidden.get(material)!));
    else candidates.push(tried(part, alone.get(part)!, best.get(part)!, most));
  }
  return (observed) => {
    const explanations = explanationsOf(mixtures, same, evidence, observed);
    return { evidence, explanations, candidates, mixtures, most };
  };
}

const likeliestFirst = (a: Part, b: Part): number => b.lnPrior - a.lnPrior;

/** What all the evidence leaves room for: materials worth trying with the places of what they hold, and room for the others. */
function roomsIn(all: Evidence, materials: readonly Material[]) {
  const hidden = new Map<Material, Room>();
  const worth: Material[] = [];
  const places = new Set<number>();
  for (const material of materials) {
    const room = roomOf(material, all);
    if (isTellingMaterial(material) && isWorthTrying(material, room, all)) {
      worth.push(material);
      for (const z of madeOf(material).of) if (all.place[z] >= 0) places.add(all.place[z]);
    } else hidden.set(material, room);
  }
  return { hidden, worth, places };
}

/** Those in which each part is missed by more than it costs, best first by the amounts. */
function neededIn(mixtures: readonly Mixture[], fits: Fits): Mixture[] {
  const needed: Mixture[] = [];
  for (const mixture of mixtures) if (leastLoss(mixture, fits) > -PRIORS.part.value) needed.push(mixture);
  return needed.sort(bestFirst);
}

const bestFirst = (a: Mixture, b: Mixture): number => b.lnAmounts - a.lnAmounts;

function mostOf(mixtures: readonly Mixture[]): number {
  let most = -Infinity;
  for (const { lnAmounts } of mixtures) most = Math.max(most, lnAmounts);
  return most;
}

function untried(material: Material, room: Room): Candidate {
  const untestable = room.most >= FAIR_PART;
  return { material, room, part: null, alone: null, best: null, needed: false, untestable, allowed: untestable };
}

function tried(part: Part, alone: Mixture, { mixture, needed }: Best, most: number): Candidate {
  const allowed = mixture.lnAmounts >= most - MOST_BELOW;
  const { material, room } = part;
  return { material, room, part, alone, best: mixture, needed, untestable: false, allowed };
}

interface Best {
  readonly mixture: Mixture;
  readonly needed: boolean;
}

/**
 * The best mixture of each part: the best that needs it, or the best beside which it may be a fair part.
 * @param mixtures in which a part left out would be missed more than it costs, best first by the amounts
 */
function bestOfEach(groups: readonly Part[][], mixtures: readonly Mixture[], evidence: Evidence): Map<Part, Best> {
  const best = new Map<Part, Best>();
  const bestWith = new Map<Part, Mixture>();
  for (const mixture of mixtures)
    for (const part of mixture.parts) if (!bestWith.has(part)) bestWith.set(part, mixture);
  const least = mixtures[0].lnAmounts - MOST_BELOW;
  for (const group of groups) {
    const needing = bestWith.get(group[0]) ?? null;
    for (const part of group) {
      const swapped = needing === null ? null : inPlaceOf(needing, group[0], part, evidence);
      if (swapped !== null && swapped.lnAmounts >= least) best.set(part, { mixture: swapped, needed: true });
      else {
        const beside = bestBeside(mixtures.slice(0, TRIED_BESIDE), part, evidence);
        best.set(
          part,
          swapped !== null && swapped.lnAmounts > beside.lnAmounts
            ? { mixture: swapped, needed: true }
            : { mixture: beside, needed: false },
        );
      }
    }
  }
  return best;
}

function inPlaceOf(mixture: Mixture, head: Part, part: Part, evidence: Evidence): Mixture {
  if (head === part) return mixture;
  const parts = mixture.parts.map((other) => (other === head ? part : other));
  return fitMixture(evidence, parts, mixture.fractions);
}

/** The best of some mixtures, best first, with a fair part of something added: of those that cannot be better none is fitted. */
function bestBeside([first, ...others]: readonly Mixture[], part: Part, evidence: Evidence): Mixture {
  let best = asFairPart(first, part, evidence);
  for (const mixture of others) {
    if (!mixture.parts.includes(part) && mixture.lnAmounts + PRIORS.part.value <= best.lnAmounts) break;
    const fitted = asFairPart(mixture, part, evidence);
    if (fitted.lnAmounts > best.lnAmounts) best = fitted;
  }
  return best;
}

/** The mixture with a fair part of something added, or with as much of it as would make up an element that is open. */
function asFairPart(mixture: Mixture, part: Part, evidence: Evidence): Mixture {
  const { parts, fractions } = mixture;
  if (parts.includes(part)) return mixture;
  const start: number[] = [];
  let held = 0;
  for (let m = 0; m < fractions.length; m++) {
    start.push(fractions[m]);
    held += fractions[m];
  }
  let added = (FAIR_PART / (1 - FAIR_PART)) * (held || FAIR_PART);
  for (const i of part.places) {
    const { kind, z, value, counting } = evidence.amounts[i];
    if (kind === 'at-most' && z >= LIGHTEST_TELLING_Z && value > counting)
      added = Math.min(added, value / part.holds[i]);
  }
  start.push(added);
  const fitted = fitMixture(evidence, [...parts, part], start, parts.length);
  // A rigid part beside a loose one narrows what is expected; that is no reason for it where it is not needed.
  return { ...fitted, lnAmounts: Math.min(fitted.lnAmounts, mixture.lnAmounts + PRIORS.part.value) };
}

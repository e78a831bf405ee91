import type { Finding } from '../identify/finding.ts';
import { sameParts } from './alike.ts';
import { type Evidence, evidenceOf, isTelling, reduced } from './evidence.ts';
import type { Material } from './knowledge.ts';
import { fitMixture, type Mixture, PART_PENALTY } from './mixture.ts';
import { isTellingMaterial, type Part, partOf } from './part.ts';
import { Fits, isWorthTrying, searchMixtures } from './search.ts';

/** A material whose best explanation is this far below the best of all in ln(weight), a three-hundredth, is ruled out. Chosen. */
export const MOST_BELOW = Math.log(300);
/** Part of the grain which a material that is not needed must be able to make up. */
export const FAIR_PART = 0.25;
/** Explanations beside whose parts a material that is not needed is tried. */
const TRIED_BESIDE = 3;

/** A material weighed against one spectrum. */
export interface Candidate {
  readonly material: Material;
  /** As the amounts see it. */
  readonly part: Part;
  /** Alone at its best amount; null where its elements leave no room worth a fit, or nothing telling is in it. */
  readonly alone: Mixture | null;
  /** The best explanation that holds it; null as for `alone`. */
  readonly best: Mixture | null;
  /** That explanation needs it; else it is only compatible with being a fair part beside the others. */
  readonly needed: boolean;
  /** All of it that could tell is carbon, nitrogen and oxygen, as in resin, medium and coating, or hidden from this spectrum. */
  readonly untestable: boolean;
  readonly allowed: boolean;
}

export interface Weighed {
  readonly evidence: Evidence;
  /** In the order of the materials. */
  readonly candidates: readonly Candidate[];
  /** Explanations in which every part is needed, best first; one stands for all that one fit does for. Never empty. */
  readonly mixtures: readonly Mixture[];
  /** For each part of a mixture, the materials one fit does for. */
  readonly same: ReadonlyMap<Part, readonly Part[]>;
}

/** Weighs all materials, alone and in mixtures of up to three, against what the findings say of the amounts. */
export function weigh(findings: readonly Finding[], materials: readonly Material[]): Weighed {
  const all = evidenceOf(findings);
  const rooms = new Map(materials.map((material) => [material, partOf(material, all)]));
  const worth = materials.filter((material) => isTellingMaterial(material) && isWorthTrying(rooms.get(material)!, all));
  const evidence = reduced(all, new Set(worth.flatMap((material) => placesIn(rooms.get(material)!))));
  const fits = new Fits(evidence);
  const alone = new Map(worth.map((material) => partOf(material, evidence)).map((part) => [part, fits.of([part])]));
  const groups = sameParts(alone, evidence);
  const mixtures = searchMixtures(
    fits,
    groups.map(([head]) => head),
  );
  const same = new Map(groups.flatMap((group) => group.map((part) => [part, group] as const)));
  const best = bestOfEach(groups, mixtures, evidence);
  const least = mixtures[0].lnWeight - MOST_BELOW;
  const parts = new Map([...alone.keys()].map((part) => [part.material, part]));
  const candidates = materials.map((material): Candidate => {
    const part = parts.get(material);
    if (part === undefined) {
      const hidden = rooms.get(material)!;
      const untestable = hidden.room.most >= FAIR_PART;
      return { material, part: hidden, alone: null, best: null, needed: false, untestable, allowed: untestable };
    }
    const { mixture, needed } = best.get(part)!;
    const allowed = mixture.lnWeight >= least;
    return { material, part, alone: alone.get(part)!, best: mixture, needed, untestable: false, allowed };
  });
  return { evidence, candidates, mixtures, same };
}

function placesIn({ holds }: Part): number[] {
  const places: number[] = [];
  holds.forEach((value, i) => {
    if (value > 0) places.push(i);
  });
  return places;
}

interface Best {
  readonly mixture: Mixture;
  readonly needed: boolean;
}

/** The best explanation of each part: the best that needs it, or the best beside which it may be a fair part. */
function bestOfEach(groups: readonly Part[][], mixtures: readonly Mixture[], evidence: Evidence): Map<Part, Best> {
  const best = new Map<Part, Best>();
  const least = mixtures[0].lnWeight - MOST_BELOW;
  for (const group of groups) {
    const needing = mixtures.find(({ parts }) => parts.includes(group[0]));
    for (const part of group) {
      const swapped = needing === undefined ? null : inPlaceOf(needing, group[0], part, evidence);
      if (swapped !== null && swapped.lnWeight >= least) best.set(part, { mixture: swapped, needed: true });
      else {
        const beside = mixtures
          .slice(0, TRIED_BESIDE)
          .map((mixture) => asFairPart(mixture, part, evidence))
          .reduce((a, b) => (b.lnWeight > a.lnWeight ? b : a));
        best.set(
          part,
          swapped !== null && swapped.lnWeight > beside.lnWeight
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

/** The mixture with a fair part of something added, or with as much of it as would make up an element that is open. */
function asFairPart(mixture: Mixture, part: Part, evidence: Evidence): Mixture {
  const { parts, fractions } = mixture;
  const held = fractions.reduce((sum, value) => sum + value, 0);
  if (parts.includes(part)) return mixture;
  const fair = (FAIR_PART / (1 - FAIR_PART)) * (held || FAIR_PART);
  const added = evidence.amounts.reduce((least, { kind, symbol, value, counting }, i) => {
    const asked = value / part.holds[i];
    return kind === 'at-most' && isTelling(symbol) && value > counting && asked < least ? asked : least;
  }, fair);
  const fitted = fitMixture(evidence, [...parts, part], [...fractions, added], parts.length);
  // A rigid part beside a loose one narrows what is expected; that is no reason for it where it is not needed.
  return { ...fitted, lnWeight: Math.min(fitted.lnWeight, mixture.lnWeight - PART_PENALTY) };
}

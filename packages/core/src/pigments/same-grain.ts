import type { Explanation } from './explanations.ts';
import { areFamily } from './family.ts';
import type { Material } from './knowledge.ts';

/**
 * Parts of the materials, by mass (judgements): below the first a material is a trace, and explanations that differ in traces alone tell
 * the same grain; from the second on it stands for one of its family that is more than a trace.
 */
const [TRACE, THERE] = [0.05, 0.03];
/** Explanations that may stand for others. */
const MOST_HEADS = 25;
/** Of those that stand for nearly as much weight, the likeliest by itself does: within this part of the most. */
const NEARLY = 0.05;

/** A material with its part of the mass of all in its explanation. */
interface Held {
  readonly material: Material;
  readonly part: number;
}

/** An explanation with its share of the weight of all. */
export interface Shared extends Explanation {
  readonly share: number;
}

/**
 * Explanations gathered by the grain that they tell: each part of one that is more than a trace is met in the other by itself or by one
 * of its family. The first gathering is the one with the most weight, the next the one with the most of what is left. Which of a
 * family it is, amounts cannot say; whether one of it is there, they can, and the shares of its members add up.
 * @param shared best first
 * @param most gatherings made; what is left then is in none
 */
export function gathered(shared: readonly Shared[], most: number): Shared[][] {
  const held = new Map(shared.map((one) => [one, heldIn(one)]));
  const agree = (a: Shared, b: Shared): boolean => tellTheSame(held.get(a)!, held.get(b)!);
  const gatherings: Shared[][] = [];
  let left = shared;
  while (left.length > 0 && gatherings.length < most) {
    const own = heaviest(left, agree);
    gatherings.push(own);
    const taken = new Set(own);
    left = left.filter((one) => !taken.has(one));
  }
  return gatherings;
}

/** The gathering of most weight, headed by what stands for it. */
function heaviest(left: readonly Shared[], agree: (a: Shared, b: Shared) => boolean): Shared[] {
  const around = left.slice(0, MOST_HEADS).map((head) => {
    const own = left.filter((one) => one === head || agree(head, one));
    return { head, own, weight: weightOf(own) };
  });
  const fit = around.filter(({ head, own, weight }) => weight >= 2 * lonelyIn(head, own));
  const most = Math.max(...fit.map(({ weight }) => weight));
  const { head, own } = fit.find(({ weight }) => weight >= (1 - NEARLY) * most) ?? around[0];
  return [head, ...own.filter((one) => one !== head)];
}

const weightOf = (all: readonly Shared[]): number => all.reduce((sum, { share }) => sum + share, 0);

/** The weight of those that lack some part of the one that is to stand for them: a trace in few of them is no part of the grain. */
function lonelyIn({ materials }: Shared, own: readonly Shared[]): number {
  const lacking = materials.map(({ material }) =>
    weightOf(own.filter((other) => !other.materials.some((part) => areFamily(part.material, material)))),
  );
  return Math.max(0, ...lacking);
}

function heldIn({ materials, mixture: { fractions } }: Explanation): Held[] {
  const total = fractions.reduce((sum, value) => sum + value, 0);
  return materials.map(({ material }, m) => ({ material, part: fractions[m] / total }));
}

const tellTheSame = (a: readonly Held[], b: readonly Held[]): boolean => isMet(a, b) && isMet(b, a);

const isMet = (held: readonly Held[], among: readonly Held[]): boolean =>
  held.every(
    ({ material, part }) =>
      part < TRACE || among.some((other) => other.part >= THERE && areFamily(material, other.material)),
  );

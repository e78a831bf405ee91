import type { Explanation } from './explanations.ts';
import { areFamily } from './family.ts';

/**
 * Parts of the materials, by mass (judgements): below the first a material is a trace, and explanations that differ in traces alone tell
 * the same grain; from the second on it stands for one of its family that is more than a trace.
 */
const [TRACE, THERE] = [0.05, 0.03];
/** Explanations that may stand for others. */
const MOST_HEADS = 25;
/** Of those that stand for nearly as much weight, the likeliest by itself does: within this part of the most. */
const NEARLY = 0.05;

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
  let left = toldBy(shared);
  const gatherings: Shared[][] = [];
  while (left.length > 0 && gatherings.length < most) {
    const own = heaviest(left);
    gatherings.push(own.map(({ one }) => one));
    const taken = new Set(own);
    left = left.filter((told) => !taken.has(told));
  }
  return gatherings;
}

/** The gathering of most weight, headed by what stands for it. */
function heaviest(left: readonly Told[]): Told[] {
  const around = left.slice(0, MOST_HEADS).map((head) => {
    const own = left.filter((told) => told === head || tellTheSame(head, told));
    return { head, own, weight: weightOf(own) };
  });
  const fit = around.filter(({ head, own, weight }) => weight >= 2 * lonelyIn(head, own));
  const most = Math.max(...fit.map(({ weight }) => weight));
  const { head, own } = fit.find(({ weight }) => weight >= (1 - NEARLY) * most) ?? around[0];
  return [head, ...own.filter((told) => told !== head)];
}

const weightOf = (all: readonly Told[]): number => all.reduce((sum, { one }) => sum + one.share, 0);

/** The weight of those that lack a trace that is in the one which is to stand for them: in few of them, it is no part of the grain. */
function lonelyIn({ places, fair }: Told, own: readonly Told[]): number {
  const traces = places.filter((place) => !has(fair, place));
  const lacking = traces.map((place) => weightOf(own.filter(({ familiar }) => !has(familiar, place))));
  return Math.max(0, ...lacking);
}

/** An explanation as it is held against others: sets of materials, a bit each. */
interface Told {
  readonly one: Shared;
  /** Its materials' places among all. */
  readonly places: readonly number[];
  /** Those that are more than a trace. */
  readonly fair: Bits;
  /** All materials of the families of its parts, and of those that stand for theirs. */
  readonly familiar: Bits;
  readonly met: Bits;
}
type Bits = Uint32Array;
const BITS = 32;

const has = (bits: Bits, place: number): boolean => (bits[Math.floor(place / BITS)] & (1 << (place % BITS))) !== 0;

function toldBy(shared: readonly Shared[]): Told[] {
  const all = [...new Set(shared.flatMap(({ materials }) => materials.map(({ material }) => material)))];
  const placeOf = new Map(all.map((material, place) => [material, place]));
  const empty = (): Bits => new Uint32Array(Math.ceil(all.length / BITS));
  const add = (bits: Bits, place: number): number => (bits[Math.floor(place / BITS)] |= 1 << (place % BITS));
  const families = all.map((material) => {
    const bits = empty();
    all.forEach((other, place) => areFamily(material, other) && add(bits, place));
    return bits;
  });
  const alone = all.map((_, place) => {
    const bits = empty();
    add(bits, place);
    return bits;
  });
  return shared.map((one) => {
    const total = one.mixture.fractions.reduce((sum, value) => sum + value, 0);
    const places = one.materials.map(({ material }) => placeOf.get(material)!);
    const [fair, familiar, met] = [empty(), empty(), empty()];
    places.forEach((place, m) => {
      const part = one.mixture.fractions[m] / total;
      // What rests on open elements alone is no likelier for having many like it.
      const family = one.materials[m].restsOnOpen ? alone[place] : families[place];
      if (part >= TRACE) add(fair, place);
      join(familiar, family);
      if (part >= THERE) join(met, family);
    });
    return { one, places, fair, familiar, met };
  });
}

function join(bits: Bits, others: Bits): void {
  for (let word = 0; word < bits.length; word++) bits[word] |= others[word];
}

const tellTheSame = (a: Told, b: Told): boolean => isWithin(a.fair, b.met) && isWithin(b.fair, a.met);

function isWithin(bits: Bits, others: Bits): boolean {
  for (let word = 0; word < bits.length; word++) if ((bits[word] & ~others[word]) !== 0) return false;
  return true;
}

import type { Explanation } from './explanations.ts';
import { areFamily, hidesIn, hidingIn } from './family.ts';
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

/**
 * Shares of a gathering's weight (judgements): what is likelier than the first to be there is no mere possibility, what is less likely
 * than the second is not worth a word, and a head that less than the third of them tell by itself stands for none that holds more.
 */
const [MOST_PERHAPS, LEAST_PERHAPS, LEAST_CORE] = [0.75, 0.15, 0.1];
/** Possibilities told of one explanation. */
const MOST_TOLD = 2;

/** An explanation with its share of the weight of all. */
export interface Shared extends Explanation {
  readonly share: number;
}

/** Explanations that tell one grain, headed by the one that stands for them. */
export interface Gathering {
  readonly explanations: Shared[];
  /** What some of them hold besides and the head's own elements hide, each with its share of the gathering's weight, the likeliest first. */
  readonly perhaps: readonly { readonly material: Material; readonly share: number }[];
}

/**
 * Explanations gathered by the grain that they tell: each part of one that is more than a trace is met in the other by itself or by one
 * of its family, or it is hidden there: every element by which it shows is one of the head's own. Such a part may be there or not.
 * The first gathering is the one with the most weight, the next the one with the most of what is left. Which of a
 * family it is, amounts cannot say; whether one of it is there, they can, and the shares of its members add up.
 * @param shared best first
 * @param most gatherings made; what is left then is in none
 */
export function gathered(shared: readonly Shared[], most: number): Gathering[] {
  let left = toldBy(shared);
  const gatherings: Gathering[] = [];
  while (left.length > 0 && gatherings.length < most) {
    const { own, perhaps } = heaviest(left);
    gatherings.push({ explanations: own.map(({ one }) => one), perhaps });
    const taken = new Set(own);
    left = left.filter((told) => !taken.has(told));
  }
  return gatherings;
}

interface Around {
  readonly head: Told;
  readonly own: readonly Told[];
  readonly weight: number;
  readonly perhaps: Gathering['perhaps'];
}

/** The gathering of most weight, headed by what stands for it. */
function heaviest(left: readonly Told[]): Around {
  const around = left.slice(0, MOST_HEADS).map((head) => gatheringOf(head, left));
  const fit = around.filter(({ head, own, weight }) => weight >= 2 * lonelyIn(head, own));
  const most = Math.max(...fit.map(({ weight }) => weight));
  const best = fit.find(({ weight }) => weight >= (1 - NEARLY) * most) ?? around[0];
  return { ...best, own: [best.head, ...best.own.filter((told) => told !== best.head)] };
}

/** All that tell what the head tells, with what it hides where that is no more than a possibility. */
function gatheringOf(head: Told, left: readonly Told[]): Around {
  const same = left.filter((told) => told === head || tellTheSame(head, told));
  const plain = { head, own: same, weight: weightOf(same), perhaps: [] };
  const own = left.filter((told) => told === head || tellsMore(told, head));
  const weight = weightOf(own);
  if (plain.weight < LEAST_CORE * weight) return plain;
  const perhaps = possibleBeside(head, own);
  return perhaps.some(({ share }) => share > MOST_PERHAPS) ? plain : { head, own, weight, perhaps };
}

/** What is more than a trace in some of them and not met in the head, a family by its likeliest. */
function possibleBeside(head: Told, own: readonly Told[]): Gathering['perhaps'] {
  const weight = weightOf(own);
  const shares = new Map<Material, number>();
  for (const { one, places, fair } of own)
    places.forEach((place, m) => {
      if (has(fair, place) && !has(head.met, place)) {
        const { material } = one.materials[m];
        shares.set(material, (shares.get(material) ?? 0) + one.share / weight);
      }
    });
  const perhaps: { material: Material; share: number }[] = [];
  for (const [material, share] of [...shares].sort((a, b) => b[1] - a[1])) {
    const family = perhaps.find((other) => areFamily(other.material, material));
    if (family) family.share += share;
    else perhaps.push({ material, share });
  }
  return perhaps
    .filter(({ share }) => share >= LEAST_PERHAPS)
    .sort((a, b) => b.share - a.share)
    .slice(0, MOST_TOLD);
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
  /** Those that show by nothing but elements by which its own parts show. */
  readonly hidden: Bits;
}
type Bits = Uint32Array;
const BITS = 32;
const NONE: Bits = new Uint32Array(0);

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
    const [fair, familiar, met, hidden] = [empty(), empty(), empty(), empty()];
    places.forEach((place, m) => {
      const part = one.mixture.fractions[m] / total;
      // What rests on open elements alone is no likelier for having many like it.
      const family = one.materials[m].restsOnOpen ? alone[place] : families[place];
      if (part >= TRACE) add(fair, place);
      join(familiar, family);
      if (part >= THERE) join(met, family);
    });
    const hiding = hidingIn(places.filter((place) => has(fair, place)).map((place) => all[place]));
    all.forEach((material, place) => hidesIn(material, hiding) && add(hidden, place));
    return { one, places, fair, familiar, met, hidden };
  });
}

function join(bits: Bits, others: Bits): void {
  for (let word = 0; word < bits.length; word++) bits[word] |= others[word];
}

const tellTheSame = (a: Told, b: Told): boolean => isWithin(a.fair, b.met) && isWithin(b.fair, a.met);

/** It tells the head's grain, or that with what the head hides. */
const tellsMore = (told: Told, head: Told): boolean =>
  isWithin(head.fair, told.met) && isWithin(told.fair, head.met, head.hidden);

function isWithin(bits: Bits, others: Bits, more: Bits = NONE): boolean {
  for (let word = 0; word < bits.length; word++)
    if ((bits[word] & ~(others[word] | (more[word] ?? 0))) !== 0) return false;
  return true;
}

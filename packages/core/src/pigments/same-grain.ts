import type { Explanation } from './explanations.ts';
import { areFamily, familiesAmong, hidesIn, hidingIn } from './family.ts';
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
    for (const told of own) told.taken = true;
    left = left.filter(isLeft);
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
  const around: Around[] = [];
  for (let i = 0; i < Math.min(left.length, MOST_HEADS); i++) around.push(gatheringOf(left[i], left));
  let most = -Infinity;
  for (const one of around) if (one.weight > most && isFit(one)) most = one.weight;
  const best = around.find((one) => one.weight >= (1 - NEARLY) * most && isFit(one)) ?? around[0];
  const own = best.own.filter((told) => isLeft(told) && told !== best.head);
  return { ...best, own: [best.head, ...own] };
}

/** To be headed by its head: most of it holds the head's traces as well. */
const isFit = ({ head, own, weight }: Around): boolean => weight >= 2 * lonelyIn(head, own);

/** All that tell what the head tells, with what it hides where that is no more than a possibility; what is taken among them does not count. */
function gatheringOf(head: Told, left: readonly Told[]): Around {
  const { same, more } = (head.near ??= nearTo(head, left));
  const plain = { head, own: same, weight: weightOf(same), perhaps: [] };
  const weight = weightOf(more);
  if (plain.weight < LEAST_CORE * weight) return plain;
  const perhaps = possibleBeside(head, more, weight);
  return perhaps.some(({ share }) => share > MOST_PERHAPS) ? plain : { head, own: more, weight, perhaps };
}

/** Those that tell the head's grain, and those that tell it or that with what the head hides. */
interface Near {
  readonly same: readonly Told[];
  readonly more: readonly Told[];
}

function nearTo(head: Told, left: readonly Told[]): Near {
  const hidden = hiddenBy(head);
  const [same, more]: [Told[], Told[]] = [[], []];
  for (const told of left) {
    const met = isWithin(head.fair, told.met);
    if (told === head || (met && isWithin(told.fair, head.met))) same.push(told);
    if (told === head || (met && isWithin(told.fair, head.met, hidden))) more.push(told);
  }
  return { same, more };
}

/** What is more than a trace in some of them and not met in the head, a family by its likeliest. */
function possibleBeside(head: Told, own: readonly Told[], weight: number): Gathering['perhaps'] {
  const shares = new Float64Array(head.all.length);
  const possible: Possible[] = [];
  for (const { one, places, fair, taken } of own) {
    if (taken) continue;
    for (let m = 0; m < places.length; m++) {
      const place = places[m];
      if (!has(fair, place) || has(head.met, place)) continue;
      if (shares[place] === 0) possible.push({ material: head.all[place], place, share: 0 });
      shares[place] += one.share / weight;
    }
  }
  for (const one of possible) one.share = shares[one.place];
  const perhaps: Possible[] = [];
  for (const one of possible.sort(likeliestFirst)) {
    const family = perhaps.find((other) => areFamily(other.material, one.material));
    if (family) family.share += one.share;
    else perhaps.push(one);
  }
  return perhaps
    .filter(({ share }) => share >= LEAST_PERHAPS)
    .sort(likeliestFirst)
    .slice(0, MOST_TOLD)
    .map(({ material, share }) => ({ material, share }));
}

interface Possible {
  readonly material: Material;
  readonly place: number;
  share: number;
}

const likeliestFirst = (a: Possible, b: Possible): number => b.share - a.share;

function weightOf(all: readonly Told[]): number {
  let sum = 0;
  for (const { one, taken } of all) if (!taken) sum += one.share;
  return sum;
}

/** The weight of those that lack a trace that is in the one which is to stand for them: in few of them, it is no part of the grain. */
function lonelyIn({ places, fair }: Told, own: readonly Told[]): number {
  let most = 0;
  for (const place of places) if (!has(fair, place)) most = Math.max(most, weightWithout(place, own));
  return most;
}

function weightWithout(place: number, own: readonly Told[]): number {
  let sum = 0;
  for (const { one, familiar, taken } of own) if (!taken && !has(familiar, place)) sum += one.share;
  return sum;
}

/** An explanation as it is held against others: sets of materials, a bit each. */
interface Told {
  readonly one: Shared;
  /** All materials of all explanations, and its own places among them. */
  readonly all: readonly Material[];
  readonly places: readonly number[];
  /** Those that are more than a trace. */
  readonly fair: Bits;
  /** All materials of the families of its parts, and of those that stand for theirs. */
  readonly familiar: Bits;
  readonly met: Bits;
  /** What is near to it, once it has headed a gathering. */
  near?: Near;
  /** It is in a gathering. */
  taken: boolean;
}
type Bits = Uint32Array;

const isLeft = ({ taken }: Told): boolean => !taken;

const emptyBits = (places: number): Bits => new Uint32Array(Math.ceil(places / 32));

function add(bits: Bits, place: number): void {
  bits[place >>> 5] |= 1 << (place & 31);
}

const has = (bits: Bits, place: number): boolean => (bits[place >>> 5] & (1 << (place & 31))) !== 0;

function toldBy(shared: readonly Shared[]): Told[] {
  const placeOf = new Map<Material, number>();
  for (const { materials } of shared)
    for (const { material } of materials) if (!placeOf.has(material)) placeOf.set(material, placeOf.size);
  const all = [...placeOf.keys()];
  const families: Bits[] = [];
  for (const places of familiesAmong(all)) families.push(bitsOf(places, all.length));
  const told: Told[] = [];
  for (const one of shared) {
    const { fractions } = one.mixture;
    let total = 0;
    for (let m = 0; m < fractions.length; m++) total += fractions[m];
    const places: number[] = [];
    const [fair, familiar, met] = [emptyBits(all.length), emptyBits(all.length), emptyBits(all.length)];
    for (let m = 0; m < one.materials.length; m++) {
      const place = placeOf.get(one.materials[m].material)!;
      const part = fractions[m] / total;
      // What rests on open elements alone is no likelier for having many like it.
      const family = one.materials[m].restsOnOpen ? bitsOf([place], all.length) : families[place];
      places.push(place);
      if (part >= TRACE) add(fair, place);
      join(familiar, family);
      if (part >= THERE) join(met, family);
    }
    told.push({ one, all, places, fair, familiar, met, taken: false });
  }
  return told;
}

function bitsOf(places: readonly number[], length: number): Bits {
  const bits = emptyBits(length);
  for (const place of places) add(bits, place);
  return bits;
}

/** The materials that show by nothing but elements by which its own parts show. */
function hiddenBy({ all, places, fair }: Told): Bits {
  const hiding = hidingIn(places.filter((place) => has(fair, place)).map((place) => all[place]));
  const hidden = emptyBits(all.length);
  for (let place = 0; place < all.length; place++) if (hidesIn(all[place], hiding)) add(hidden, place);
  return hidden;
}

function join(bits: Bits, others: Bits): void {
  for (let word = 0; word < bits.length; word++) bits[word] |= others[word];
}

/** Whether all of a set are in one of two others. */
function isWithin(bits: Bits, others: Bits, more: Bits = others): boolean {
  for (let word = 0; word < bits.length; word++) if ((bits[word] & ~(others[word] | more[word])) !== 0) return false;
  return true;
}

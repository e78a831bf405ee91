import { exp } from '../arithmetic/exponential.ts';
import { MAX_Z } from '../atomic/elements.ts';
import { type Evidence, isTelling } from './evidence.ts';
import { fitMixture, type Mixture, quickDeviation } from './mixture.ts';
import type { Part } from './part.ts';
import { PRIORS } from './priors.ts';

/** Most materials in one explanation, medium and mounting apart. */
export const MOST_PARTS = 4;
/** Parts tried at each step by full fits, after a quick estimate of all. */
const TRIED = 5;
/** Mixtures carried on at each step. */
const CARRIED_ON = 2;
/** Part of an element's amount that a material must be able to hold to be worth trying. */
const WORTH_HOLDING = 0.3;
/** Mixtures this far below the best are dropped, by what the amounts alone say and with the priors: what is seen besides may lift one. */
const KEPT = { amounts: 7, weight: 12 };
/**
 * A part with which the likelihood loses more than this, ln, is dropped; what it neither betters nor worsens may be there, and has its
 * share of the weight: lead white beside lead-tin yellow.
 */
const LEAST_LOSS = -1;
/** Mixtures of all but one of the most parts that are carried on to the last. */
const CARRIED_TO_LAST = 8;

/** Whether a material could hold a fair part of any telling element that something is seen of. */
export function isWorthTrying({ holds, room }: Part, { amounts }: Evidence): boolean {
  return amounts.some(
    ({ kind, symbol, value, physics }, i) =>
      kind !== 'not-seen' &&
      holds[i] > 0 &&
      isTelling(symbol) &&
      room.most * exp(physics) * holds[i] > WORTH_HOLDING * value,
  );
}

/**
 * Mixtures to which no part does harm, best first: from each part alone, the parts that better it most are added while they
 * can pay for themselves; a last one to the best mixtures of all.
 */
export function searchMixtures(fitted: Fits, parts: readonly Part[]): Mixture[] {
  const large = new Set<Mixture>();
  for (const part of parts) {
    let carried = [fitted.of([part])];
    for (let size = 2; size < MOST_PARTS; size++) {
      carried = carried
        .flatMap((mixture) => extended(mixture, parts, fitted))
        .sort(heaviestFirst)
        .slice(0, CARRIED_ON);
    }
    for (const mixture of carried) large.add(mixture);
  }
  const lacking = [...large].filter(isLacking).sort(heaviestFirst);
  for (const mixture of lacking.slice(0, CARRIED_TO_LAST)) extended(mixture, parts, fitted);
  const all = fitted.all().sort(heaviestFirst);
  const leastWeight = all[0].lnWeight - KEPT.weight;
  const leastAmounts = Math.max(...all.map(({ lnAmounts }) => lnAmounts)) - KEPT.amounts;
  return all.filter(
    (mixture) =>
      (mixture.lnWeight > leastWeight || mixture.lnAmounts > leastAmounts) && leastLoss(mixture, fitted) > LEAST_LOSS,
  );
}

const heaviestFirst = (a: Mixture, b: Mixture): number => b.lnWeight - a.lnWeight;

/** Misses the amounts by more than what one more part costs. */
const isLacking = ({ chi2 }: Mixture): boolean => chi2 >= -2 * PRIORS.part.value;

/** The mixture with each of the parts that promise most. */
function extended(mixture: Mixture, parts: readonly Part[], fitted: Fits): Mixture[] {
  if (!isLacking(mixture)) return [];
  const { amounts } = fitted.evidence;
  const before = mixture.held.map((held, i) => quickDeviation(amounts[i], held));
  const promising: Promised[] = [];
  for (const part of parts) {
    if (mixture.parts.includes(part)) continue;
    const promised = promise(mixture, before, part, fitted.evidence);
    if (promised !== null) promising.push(promised);
  }
  return promising
    .sort((a, b) => b.gain / 2 + b.part.lnPrior - (a.gain / 2 + a.part.lnPrior))
    .slice(0, TRIED)
    .map(({ part, fraction }) => fitted.of([...mixture.parts, part], [...mixture.fractions, fraction]));
}

interface Promised {
  readonly part: Part;
  readonly gain: number;
  readonly fraction: number;
}

/**
 * Quick estimate of how much chi-square falls when as much of a part is added as its measured elements still lack, the least or the
 * typical one of them; null where that does not pay for one more part.
 */
function promise({ held }: Mixture, before: Float64Array, part: Part, evidence: Evidence): Promised | null {
  const { amounts } = evidence;
  let most = -PRIORS.part.value;
  let best = 0;
  // No more can be gained than is left over now.
  let left = 0;
  for (let k = 0; k < part.places.length; k++) left += before[part.places[k]];
  if (left <= most) return null;
  const number = lacking(held, part, evidence);
  for (let way = 0; way < Math.min(2, number); way++) {
    const fraction = LACKING[way === 0 ? 0 : number >> 1];
    let gain = 0;
    for (let k = 0; k < part.places.length; k++) {
      const i = part.places[k];
      gain += before[i] - quickDeviation(amounts[i], held[i] + fraction * part.holds[i]);
    }
    if (gain > most) {
      most = gain;
      best = fraction;
    }
  }
  return best > 0 ? { part, gain: most, fraction: best } : null;
}

/** Fractions that make up for what measured elements lack: tens of thousands of lists follow each other, and none is kept. */
const LACKING = new Float64Array(MAX_Z + 1);

/** Lists the fractions that make up for what each of its measured elements lacks, ascending; how many. */
function lacking(held: Float64Array, { holds, places, room }: Part, { amounts }: Evidence): number {
  let number = 0;
  for (let k = 0; k < places.length; k++) {
    const i = places[k];
    const { kind, value } = amounts[i];
    if (kind !== 'measured' || value <= held[i]) continue;
    const fraction = Math.min(room.most, (value - held[i]) / holds[i]);
    let place = number++;
    for (; place > 0 && LACKING[place - 1] > fraction; place--) LACKING[place] = LACKING[place - 1];
    LACKING[place] = fraction;
  }
  return number;
}

/** ln of the likelihood that is lost when the part is left out that is missed least; whatever a part costs. */
export function leastLoss({ parts, fractions, lnAmounts }: Mixture, fitted: Fits): number {
  const losses = parts.map((left) => {
    const rest = parts.filter((part) => part !== left);
    const start = [...fractions].filter((_, m) => parts[m] !== left);
    return lnAmounts - PRIORS.part.value - fitted.of(rest, start).lnAmounts;
  });
  return Math.min(...losses);
}

/** Beyond the number of any materials there are: four such numbers make one that is exact. */
const MOST_NUMBERED = 8192;

/** Every mixture fitted so far, each once; the empty one from the start. */
export class Fits {
  readonly evidence: Evidence;
  readonly #numbers = new Map<Part, number>();
  readonly #mixtures = new Map<number, Mixture>();

  constructor(evidence: Evidence) {
    this.evidence = evidence;
    this.of([], []);
  }

  /** @param start fractions to start from; where the measured elements of each part point, if left out */
  of(parts: readonly Part[], start?: readonly number[]): Mixture {
    const key = this.#keyOf(parts);
    const known = this.#mixtures.get(key);
    if (known) return known;
    const mixture = fitMixture(this.evidence, parts, start ?? parts.map((part) => startOf(part, this.evidence)));
    this.#mixtures.set(key, mixture);
    return mixture;
  }

  all(): Mixture[] {
    return [...this.#mixtures.values()];
  }

  /** One number for a set of parts, in whatever order. */
  #keyOf(parts: readonly Part[]): number {
    const numbers = parts.map((part) => this.#numberOf(part)).sort((a, b) => a - b);
    return numbers.reduce((key, number) => key * MOST_NUMBERED + number, 0);
  }

  /** From 1. */
  #numberOf(part: Part): number {
    const known = this.#numbers.get(part);
    if (known !== undefined) return known;
    const number = this.#numbers.size + 1;
    this.#numbers.set(part, number);
    return number;
  }
}

/** What its measured elements ask for, at the median, but no more than there is room for. */
function startOf({ holds, room }: Part, { amounts }: Evidence): number {
  const asked = amounts.flatMap(({ kind, value }, i) =>
    kind === 'measured' && holds[i] > 0.01 ? [value / holds[i]] : [],
  );
  asked.sort((a, b) => a - b);
  return Math.max(1e-4, Math.min(room.most, asked[asked.length >> 1] ?? 0.1));
}

import { exp } from '../arithmetic/exponential.ts';
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
  for (const mixture of [...large].sort(heaviestFirst).slice(0, CARRIED_TO_LAST)) extended(mixture, parts, fitted);
  const all = fitted.all().sort(heaviestFirst);
  const leastWeight = all[0].lnWeight - KEPT.weight;
  const leastAmounts = Math.max(...all.map(({ lnAmounts }) => lnAmounts)) - KEPT.amounts;
  return all.filter(
    (mixture) =>
      (mixture.lnWeight > leastWeight || mixture.lnAmounts > leastAmounts) && leastLoss(mixture, fitted) > LEAST_LOSS,
  );
}

const heaviestFirst = (a: Mixture, b: Mixture): number => b.lnWeight - a.lnWeight;

/** The mixture with each of the parts that promise most. */
function extended(mixture: Mixture, parts: readonly Part[], fitted: Fits): Mixture[] {
  if (mixture.chi2 < -2 * PRIORS.part.value) return [];
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
 * Quick estimate of how much chi-square falls when as much of a part is added as its measured elements still lack; null where that does
 * not pay for one more part.
 */
function promise({ held }: Mixture, before: Float64Array, part: Part, evidence: Evidence): Promised | null {
  const { amounts } = evidence;
  let [most, best] = [-PRIORS.part.value, 0];
  for (const fraction of lacking(held, part, evidence)) {
    let gain = 0;
    for (const i of part.places) gain += before[i] - quickDeviation(amounts[i], held[i] + fraction * part.holds[i]);
    if (gain > most) [most, best] = [gain, fraction];
  }
  return best > 0 ? { part, gain: most, fraction: best } : null;
}

/** The least, and the typical, fraction that makes up for what its measured elements lack. */
function lacking(held: Float64Array, { holds, places, room }: Part, { amounts }: Evidence): number[] {
  const fractions: number[] = [];
  for (const i of places) {
    if (amounts[i].kind !== 'measured' || amounts[i].value <= held[i]) continue;
    fractions.push(Math.min(room.most, (amounts[i].value - held[i]) / holds[i]));
  }
  fractions.sort((a, b) => a - b);
  if (fractions.length < 2) return fractions;
  return [fractions[0], fractions[fractions.length >> 1]];
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

/** Every mixture fitted so far, each once; the empty one from the start. */
export class Fits {
  readonly evidence: Evidence;
  readonly #numbers = new Map<Part, number>();
  readonly #mixtures = new Map<string, Mixture>();

  constructor(evidence: Evidence) {
    this.evidence = evidence;
    this.of([], []);
  }

  /** @param start fractions to start from; where the measured elements of each part point, if left out */
  of(parts: readonly Part[], start?: readonly number[]): Mixture {
    const key = parts
      .map((part) => this.#numberOf(part))
      .sort((a, b) => a - b)
      .join(' ');
    const known = this.#mixtures.get(key);
    if (known) return known;
    const mixture = fitMixture(this.evidence, parts, start ?? parts.map((part) => startOf(part, this.evidence)));
    this.#mixtures.set(key, mixture);
    return mixture;
  }

  all(): Mixture[] {
    return [...this.#mixtures.values()];
  }

  #numberOf(part: Part): number {
    const number = this.#numbers.get(part) ?? this.#numbers.size;
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

import { type Evidence, isTelling } from './evidence.ts';
import { fitMixture, type Mixture, PART_PENALTY, quickDeviation } from './mixture.ts';
import type { Part } from './part.ts';

/** Most materials in one explanation, medium and mounting apart. */
export const MOST_PARTS = 3;
/** Parts tried at each step by full fits, after a quick estimate of all. */
const TRIED = 5;
/** Mixtures carried on at each step. */
const CARRIED_ON = 2;
/** Part of an element's amount that a material must be able to hold to be worth trying. */
const WORTH_HOLDING = 0.3;
/** Mixtures this far below the best in ln(weight) are dropped. */
const KEPT = 7;

/** Whether a material could hold a fair part of any telling element that something is seen of. */
export function isWorthTrying({ holds, room }: Part, { amounts }: Evidence): boolean {
  return amounts.some(
    ({ kind, symbol, value, physics }, i) =>
      kind !== 'not-seen' &&
      holds[i] > 0 &&
      isTelling(symbol) &&
      room.most * Math.exp(physics) * holds[i] > WORTH_HOLDING * value,
  );
}

/**
 * Mixtures of up to three parts in which every part is needed, best first: from each part alone, the parts that better it most
 * are added while they can pay for themselves.
 */
export function searchMixtures(fitted: Fits, parts: readonly Part[]): Mixture[] {
  for (const part of parts) {
    let carried = [fitted.of([part])];
    for (let size = 2; size <= MOST_PARTS; size++) {
      carried = carried
        .flatMap((mixture) => extended(mixture, parts, fitted))
        .sort((a, b) => b.lnWeight - a.lnWeight)
        .slice(0, CARRIED_ON);
    }
  }
  const all = fitted.all().sort((a, b) => b.lnWeight - a.lnWeight);
  const least = all[0].lnWeight - KEPT;
  return all.filter((mixture) => mixture.lnWeight > least && isNeeded(mixture, fitted));
}

/** The mixture with each of the parts that promise most. */
function extended(mixture: Mixture, parts: readonly Part[], fitted: Fits): Mixture[] {
  if (mixture.chi2 < 2 * PART_PENALTY) return [];
  const { amounts } = fitted.evidence;
  const before = mixture.held.map((held, i) => quickDeviation(amounts[i], held));
  return parts
    .filter((part) => !mixture.parts.includes(part))
    .map((part) => ({ part, ...promise(mixture, before, part, fitted.evidence) }))
    .filter(({ gain }) => gain > PART_PENALTY)
    .sort((a, b) => b.gain - a.gain)
    .slice(0, TRIED)
    .map(({ part, fraction }) => fitted.of([...mixture.parts, part], [...mixture.fractions, fraction]));
}

/** Quick estimate of how much chi-square falls when as much of a part is added as its measured elements still lack. */
function promise(
  { held }: Mixture,
  before: Float64Array,
  part: Part,
  evidence: Evidence,
): { gain: number; fraction: number } {
  const { amounts } = evidence;
  let best = { gain: 0, fraction: 1e-3 };
  for (const fraction of lacking(held, part, evidence)) {
    let gain = 0;
    for (let i = 0; i < amounts.length; i++) {
      if (part.holds[i] > 0) gain += before[i] - quickDeviation(amounts[i], held[i] + fraction * part.holds[i]);
    }
    if (gain > best.gain) best = { gain, fraction };
  }
  return best;
}

/** The least, and the typical, fraction that makes up for what its measured elements lack. */
function lacking(held: Float64Array, { holds, room }: Part, { amounts }: Evidence): number[] {
  const fractions: number[] = [];
  for (let i = 0; i < amounts.length; i++) {
    if (holds[i] === 0 || amounts[i].kind !== 'measured' || amounts[i].value <= held[i]) continue;
    fractions.push(Math.min(room.most, (amounts[i].value - held[i]) / holds[i]));
  }
  fractions.sort((a, b) => a - b);
  if (fractions.length < 2) return fractions;
  return [fractions[0], fractions[fractions.length >> 1]];
}

/** No part could be left out without loss. */
function isNeeded({ parts, fractions, lnWeight }: Mixture, fitted: Fits): boolean {
  return parts.every((left) => {
    const rest = parts.filter((part) => part !== left);
    const start = [...fractions].filter((_, m) => parts[m] !== left);
    return fitted.of(rest, start).lnWeight < lnWeight;
  });
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

import type { Evidence } from './evidence.ts';
import { fitMixture, type Mixture } from './mixture.ts';
import type { Part } from './part.ts';

/** Beyond the number of any materials there are: four such numbers make one that is exact. */
const MOST_NUMBERED = 8192;

/** Every mixture fitted so far, each once; the empty one from the start. */
export class Fits {
  readonly evidence: Evidence;
  readonly #numbers = new Map<Part, number>();
  readonly #mixtures = new Map<number, Mixture>();

  constructor(evidence: Evidence) {
    this.evidence = evidence;
    this.of([]);
  }

  /** @param start fractions to start from; where the measured elements of each part point, if left out */
  of(parts: readonly Part[], start?: ArrayLike<number>): Mixture {
    const key = this.#keyOf(parts);
    let mixture = this.#mixtures.get(key);
    if (mixture === undefined) {
      mixture = fitMixture(this.evidence, parts, start ?? parts.map((part) => startOf(part, this.evidence)));
      this.#mixtures.set(key, mixture);
    }
    return mixture;
  }

  /** A mixture without one of its parts. @param left place of the part */
  without({ parts, fractions }: Mixture, left: number): Mixture {
    const rest = parts.toSpliced(left, 1);
    const known = this.#mixtures.get(this.#keyOf(rest));
    if (known !== undefined) return known;
    const start: number[] = [];
    for (let m = 0; m < parts.length; m++) if (m !== left) start.push(fractions[m]);
    return this.of(rest, start);
  }

  all(): Mixture[] {
    return [...this.#mixtures.values()];
  }

  /** One number for a set of parts, in whatever order. */
  #keyOf(parts: readonly Part[]): number {
    const numbers: number[] = [];
    for (const part of parts) {
      const number = this.#numberOf(part);
      let place = numbers.length;
      for (; place > 0 && numbers[place - 1] > number; place--) numbers[place] = numbers[place - 1];
      numbers[place] = number;
    }
    let key = 0;
    for (const number of numbers) key = key * MOST_NUMBERED + number;
    return key;
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

const ascending = (a: number, b: number): number => a - b;

/** What its measured elements ask for, at the median, but no more than there is room for. */
function startOf({ holds, places, room }: Part, { amounts }: Evidence): number {
  const asked: number[] = [];
  for (const i of places)
    if (amounts[i].kind === 'measured' && holds[i] > 0.01) asked.push(amounts[i].value / holds[i]);
  asked.sort(ascending);
  return Math.max(1e-4, Math.min(room.most, asked[asked.length >> 1] ?? 0.1));
}

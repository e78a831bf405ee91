/**
 * What a reading may cost, in multiplications as counted here. Grains take a few per cent of it, wrong axes that are put right up to
 * half; counts that the model cannot explain would otherwise have it look further and further.
 */
const BUDGET = 2e10;

/** The work of one reading, counted, not timed: the same spectrum ends at the same step on every machine. */
export class Work {
  #left: number;

  constructor(budget = BUDGET) {
    this.#left = budget;
  }

  spend(multiplications: number): void {
    this.#left -= multiplications;
  }

  /** Whether a reading must come to its end with what stands. */
  get isSpent(): boolean {
    return this.#left <= 0;
  }

  get left(): number {
    return this.#left;
  }

  /** Whether so much is left; what asks for more has a reading end. */
  covers(multiplications: number): boolean {
    if (multiplications <= this.#left) return true;
    this.#left = Math.min(0, this.#left);
    return false;
  }
}

/** Multiplications, and what takes as long, that make the columns of a model around one point: they grow with the channels. */
export const designCost = (channels: number): number => 3e4 * channels;

/** Multiplications for a linear model: its columns, their products with each other, most of which do not meet, and the elimination. */
export const linearCost = (columns: number, channels: number): number => columns * columns * (0.1 * channels + columns);

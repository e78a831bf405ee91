/**
 * What a reading may cost, in multiplications of a linear model as counted here. Grains take 4 %, wrong axes that are put right up to
 * 91 %; counts that the model cannot explain would otherwise have it look further and further. All of it takes as long as some 20 grains.
 */
const BUDGET = 1.5e10;

/** The work of one reading, counted, not timed: the same spectrum ends at the same step on every machine. */
export class Work {
  #left: number;
  readonly #of: Work | null;

  constructor(budget = BUDGET, of: Work | null = null) {
    this.#left = budget;
    this.#of = of;
  }

  /** A part of it for something that may fail without harm: what that costs is spent here as well. */
  part(most: number): Work {
    return new Work(Math.min(most, this.#left), this);
  }

  spend(multiplications: number): void {
    this.#left -= multiplications;
    this.#of?.spend(multiplications);
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

/*
 * What each kind of work costs beside the multiplications of a linear model, whose loops are compiled. Measured: least squares to the
 * processor time of 18 readings (grains, wrong axes, odd spectra of 64 to 65,536 channels), which it meets within a third.
 */

/** Multiplications that take as long as making the columns of a model around one point. */
export const designCost = (channels: number): number => 9e5 * Math.sqrt(channels) + 6e3 * channels;

/** A multiplication of a factorisation. */
export const FACTORING = 2;

/** Multiplications for striking columns out of an elimination: the factor of their block, and its solutions for the elements, which are not compiled. */
export const strikingCost = (elements: number, columns: number): number =>
  elements * columns * (2 * elements + columns) + (FACTORING * columns * columns * columns) / 6;

/** A multiplication of a search among sets of elements: rows of a few members, not compiled. */
export const SEARCHING = 13;

/** Part of the pairs of columns that meet, in a usual design. */
const MEETING = 0.1;

/**
 * Part of the channels in which the columns of a design meet two by two: more than usual where the channels are so narrow that a line spans hundreds.
 * @param filled channels that the columns fill, of `columns` times `channels`
 */
export const meeting = (filled: number, columns: number, channels: number): number =>
  Math.max(MEETING, Math.min(1, filled / Math.max(1, columns * channels)) ** 2);

/** Multiplications for a linear model: its columns, their products with each other, most of which do not meet, and the elimination. */
export const linearCost = (columns: number, channels: number, meet = MEETING): number =>
  columns * columns * (meet * channels + columns);

/** Multiplications for the sum of all columns and their sums over the counts: loops of columns that each fill a fifth of the channels. */
export const sumsCost = (filled: number): number => 5 * filled;

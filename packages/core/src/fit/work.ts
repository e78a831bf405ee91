/**
 * What a reading may cost, in multiplications as counted here: some seventeen times what a grain of the demo takes. Counts that the model
 * cannot explain would otherwise have it look further and further.
 */
const BUDGET = 1e10;

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
}

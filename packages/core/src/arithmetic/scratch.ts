/** Larger arrays are not kept: a wide axis asks for them once. Numbers. */
const MOST_KEPT = 2 ** 20;

/**
 * Memory for an array that one step of the work needs and no other. It is given out again and again: arrays of megabytes a reading would have the
 * engine collect its garbage many times over. One scratch serves one purpose, so that whoever is called meanwhile takes another.
 */
export class Scratch {
  #memory = new Float64Array(0);
  #last = this.#memory;

  /** So many numbers, left over from before: each is to be written before it is read. The array given out before is void. */
  of(length: number): Float64Array {
    if (length === this.#last.length) return this.#last;
    if (length > MOST_KEPT) return new Float64Array(length);
    if (length > this.#memory.length) this.#memory = new Float64Array(length + (length >> 2));
    return (this.#last = this.#memory.subarray(0, length));
  }

  /** The same, all 0. */
  zeros(length: number): Float64Array {
    return this.of(length).fill(0);
  }
}

/** Memory for the arrays of a piece of work that needs many: all are given back at once, when the next piece begins. */
export class Rack {
  #memory = new Float64Array(0);
  #used = 0;

  /** All arrays given out before are void. */
  clear(): void {
    // What did not fit the last time will fit this time.
    const wanted = Math.min(this.#used, MOST_KEPT);
    if (wanted > this.#memory.length) this.#memory = new Float64Array(wanted);
    this.#used = 0;
  }

  /** So many numbers, left over from before: each is to be written before it is read. */
  of(length: number): Float64Array {
    const from = this.#used;
    this.#used += length;
    return this.#used <= this.#memory.length ? this.#memory.subarray(from, this.#used) : new Float64Array(length);
  }

  /** The same, all 0. */
  zeros(length: number): Float64Array {
    return this.of(length).fill(0);
  }
}

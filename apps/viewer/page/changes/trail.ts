/** What was asked of a spectrum, one state after the other, for going back and forth. */
export class Trail {
  readonly #states: string[] = [''];
  #at = 0;

  /** The page has come to a state, by a change, by going back or forth, or by an address. */
  visit(state: string): void {
    if (state === this.#states[this.#at]) return;
    if (state === this.before) this.#at--;
    else if (state === this.after) this.#at++;
    else this.#states.splice(++this.#at, Infinity, state);
  }

  /** The state before this one, and after it; undefined at the ends. */
  get before(): string | undefined {
    return this.#states[this.#at - 1];
  }
  get after(): string | undefined {
    return this.#states[this.#at + 1];
  }
}

import type { BenchCurves, BenchState, BenchVerdict, BenchWords } from '@limner/core';
import type { Asker } from './core.ts';
import type { Told } from './protocol.ts';
import { atThreeResolutions, type AtResolution } from './three.ts';

/** Shows what is known of a state, each as soon as it is. */
export interface Showing {
  readonly curves: (curves: BenchCurves) => void;
  /** The separation. */
  readonly told: (told: Told) => void;
  /** The words again, with the counts that would tell. */
  readonly words: (words: BenchWords) => void;
  readonly verdict: (verdict: BenchVerdict) => void;
  readonly three: (three: readonly AtResolution[]) => void;
  readonly fault: (error: unknown) => void;
}

/** Three speeds: curves at once, the separation when the hand pauses, the verdict when it rests. Of each change only the newest is asked on. */
export class Speeds {
  readonly #quick: Asker;
  readonly #slow: Asker;
  readonly #show: Showing;
  #changes = 0;
  #told: Promise<Told | null> = Promise.resolve(null);

  /** Quick questions and slow ones have an asker each, so that a verdict never holds up a curve. */
  constructor(quick: Asker, slow: Asker, show: Showing) {
    this.#quick = quick;
    this.#slow = slow;
    this.#show = show;
  }

  /** The hand moves to a state. Curves of one that was passed are shown as well: they follow the hand. */
  moved(state: BenchState): Promise<void> {
    this.#changes++;
    this.#told = Promise.resolve(null);
    return this.#newest(async () => {
      const curves = await this.#quick.ask('curves', state);
      if (curves !== null) this.#show.curves(curves);
    });
  }

  /** The hand pauses where it moved last, and an element is taken out. */
  paused(state: BenchState): Promise<void> {
    return this.#newest(async (isNewest) => {
      this.#told = this.#quick.ask('answer', state);
      const told = await this.#told;
      if (told !== null && isNewest()) this.#show.told(told);
    });
  }

  /** The hand rests where it paused. */
  rested(state: BenchState): Promise<void> {
    return this.#newest(async (isNewest) => {
      const told = await this.#told;
      const slow = askingWhile(isNewest, this.#slow);
      const words = told && (await slow.ask('needs', { state, found: told.found }));
      if (words !== null && isNewest()) this.#show.words(words);
      const verdict = await slow.ask('verdict', state);
      if (verdict === null) return;
      this.#show.verdict(verdict);
      const three = await atThreeResolutions(slow, state);
      if (three !== null) this.#show.three(three);
    });
  }

  /** Steps of the newest change; a fault of one that has been overtaken is nobody's. */
  async #newest(steps: (isNewest: () => boolean) => Promise<void>): Promise<void> {
    const change = this.#changes;
    const isNewest = (): boolean => change === this.#changes;
    try {
      await steps(isNewest);
    } catch (error) {
      if (isNewest()) this.#show.fault(error);
    }
  }
}

/** Asks no more once it is overtaken: a late question would take the place of a newer one that waits. Its answers are null then. */
const askingWhile = (isNewest: () => boolean, asker: Asker): Asker => ({
  ask: async (kind, ask) => {
    const answer = isNewest() ? await asker.ask(kind, ask) : null;
    return isNewest() ? answer : null;
  },
});

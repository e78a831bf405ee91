import type { BenchState } from '@limner/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Core } from './core.ts';
import type { Answer, Question } from './protocol.ts';
import { Speeds } from './speeds.ts';

/** Stands for a worker: a question is answered when the test says so, with what was asked. */
class StillWorker {
  readonly asked: Question[] = [];
  #answered = 0;
  #tell: (event: { data: Answer }) => void = () => undefined;

  addEventListener(_type: string, tell: (event: { data: Answer }) => void): void {
    this.#tell = tell;
  }

  postMessage(question: Question): void {
    this.asked.push(question);
  }

  get isAsked(): boolean {
    return this.#answered < this.asked.length;
  }

  /** Answers what is under way. */
  async answer(message?: string): Promise<void> {
    const { ticket, kind, ask } = this.asked[this.#answered++];
    const value = { kind, ask, found: { of: ask }, words: { of: ask } } as never;
    this.#tell({ data: message ? { ticket, ok: false, message } : { ticket, ok: true, value } });
    await settled();
  }

  /** Answers until nothing more is asked. */
  async answerAll(): Promise<void> {
    while (this.isAsked) await this.answer();
  }
}

const settled = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const core = (worker: StillWorker): Core => new Core(worker as unknown as Worker);
const stateOf = (counts: number, out: string | null = 'S'): BenchState => ({ counts, out }) as BenchState;

const three = (counts: number): string => `three ${counts}@122 ${counts}@135 ${counts}@170`;

function bench() {
  const [quick, slow] = [new StillWorker(), new StillWorker()];
  const shown: string[] = [];
  const show =
    (what: string) =>
    (value: unknown): void =>
      void shown.push(`${what} ${countsOf(value)}`);
  const [quickly, slowly] = [core(quick), core(slow)];
  const speeds = new Speeds(quickly, slowly, {
    curves: show('curves'),
    told: show('told'),
    words: show('words'),
    verdict: show('verdict'),
    three: (three) =>
      shown.push(['three', ...three.map(({ state: { counts, fwhmMnEv } }) => `${counts}@${fwhmMnEv}`)].join(' ')),
    fault: (error) => shown.push(String(error)),
  });
  /** The hand moves to a state, pauses and rests. */
  const rest = (state: BenchState): void => {
    void speeds.moved(state);
    if (state.out !== null) void speeds.paused(state);
    void speeds.rested(state);
  };
  return { quick, slow, slowly, speeds, shown, rest };
}

/** Which state an answer belongs to. */
function countsOf(value: unknown): number {
  const { ask } = value as { ask: BenchState & { state?: BenchState } };
  return (ask.state ?? ask).counts;
}

describe('what the bench shows of a state', () => {
  it('comes in order: curves, separation, what would tell, verdict, three resolutions', async () => {
    const { quick, slow, shown, rest } = bench();
    rest(stateOf(1));
    await quick.answerAll();
    await slow.answerAll();
    expect(shown).toEqual(['curves 1', 'told 1', 'words 1', 'verdict 1', three(1)]);
  });

  it('without an element taken out is curves and verdict', async () => {
    const { quick, slow, shown, rest } = bench();
    rest(stateOf(1, null));
    await quick.answerAll();
    await settled();
    await slow.answerAll();
    expect(shown).toEqual(['curves 1', 'verdict 1', 'three']);
  });

  it('is asked of the separation of that very state, however late it comes', async () => {
    const { quick, slow, shown, rest } = bench();
    rest(stateOf(1));
    await quick.answerAll();
    // The first question of the slow worker is under way when the hand has moved on and rests again.
    rest(stateOf(2));
    await slow.answerAll();
    expect(shown.at(-1)).toBe('told 1');
    await quick.answerAll();
    await slow.answerAll();
    expect(slow.asked.filter(({ kind }) => kind === 'needs').map(({ ask }) => countsOf({ ask }))).toEqual([1, 2]);
    expect(shown.slice(-4)).toEqual(['told 2', 'words 2', 'verdict 2', three(2)]);
  });

  it('is all there at last, however slow the answers, and whatever the lesson asks in between', async () => {
    const steps = fc.array(fc.constantFrom('move', 'rest', 'quick', 'slow', 'question', 'lesson'), { maxLength: 40 });
    const everything = fc.asyncProperty(steps, async (taken) => {
      const { quick, slow, slowly, speeds, shown } = bench();
      let state = stateOf(0);
      let rests = true;
      for (const step of [...taken, 'move', 'rest']) {
        if (step === 'quick' && quick.isAsked) await quick.answer();
        else if (step === 'slow' && slow.isAsked) await slow.answer();
        else if (step === 'question') void slowly.ask('question', 'of a lesson');
        else if (step === 'lesson') void slowly.ask('lesson', { id: 'of a lesson', text: '' });
        else if (step === 'move') {
          state = stateOf(state.counts + 1);
          rests = false;
          void speeds.moved(state);
          void speeds.paused(state);
        } else if (step === 'rest' && !rests) {
          rests = true;
          void speeds.rested(state);
        }
      }
      await quick.answerAll();
      await slow.answerAll();
      const { counts } = state;
      const all = ['curves', 'told', 'words', 'verdict'].map((what) => `${what} ${counts}`);
      expect(shown).toEqual(expect.arrayContaining([...all, three(counts)]));
    });
    await fc.assert(everything, { seed: 18, numRuns: 1000 });
  });

  it('is no longer asked once the hand has left it', async () => {
    const { quick, slow, rest } = bench();
    rest(stateOf(1));
    rest(stateOf(2));
    await quick.answerAll();
    await slow.answerAll();
    expect(slow.asked.map(({ ask }) => countsOf({ ask }))).toEqual(Array(8).fill(2));
  });

  it('is never less than a later state has shown: curves stand before the separation that is drawn over them', async () => {
    const { quick, speeds, shown } = bench();
    void speeds.moved(stateOf(1));
    void speeds.paused(stateOf(1));
    void speeds.moved(stateOf(2));
    void speeds.paused(stateOf(2));
    await quick.answerAll();
    expect(shown).toEqual(['curves 1', 'curves 2', 'told 2']);
  });

  it('is a fault where core says so, and nothing of a state that was left', async () => {
    const { quick, shown, rest } = bench();
    rest(stateOf(1));
    await quick.answer();
    await quick.answer('no such material');
    expect(shown).toEqual(['curves 1', 'Error: no such material', 'Error: no such material']);
    rest(stateOf(2));
    rest(stateOf(3));
    await quick.answer('too late to matter');
    await quick.answerAll();
    expect(shown.slice(3)).toEqual(['curves 3', 'told 3']);
  });
});

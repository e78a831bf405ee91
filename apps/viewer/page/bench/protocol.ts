import type {
  BenchAnswer,
  BenchCurves,
  BenchState,
  BenchVerdict,
  BenchWords,
  LessonKey,
  LessonQuestion,
} from '@limner/core';

/** What the page needs to begin with. */
export interface Start {
  readonly materials: readonly { readonly id: string; readonly name: string }[];
  readonly lessons: readonly { readonly id: string; readonly title: string; readonly minutes: number }[];
  readonly caution: string;
  readonly leftOut: string;
}

/** The separation of a state, and its words. */
export interface Told {
  readonly found: BenchAnswer;
  readonly words: BenchWords;
}

/** What the page asks of core in the worker, and what each answers. */
export interface Asks {
  readonly start: { readonly ask: null; readonly answer: Start };
  readonly curves: { readonly ask: BenchState; readonly answer: BenchCurves };
  readonly answer: { readonly ask: BenchState; readonly answer: Told };
  /** The words again, with the counts that would tell. */
  readonly needs: {
    readonly ask: { readonly state: BenchState; readonly found: BenchAnswer };
    readonly answer: BenchWords;
  };
  readonly verdict: { readonly ask: BenchState; readonly answer: BenchVerdict };
  /** A lesson before the commitment: its question, the states it leads to, no answer. */
  readonly question: {
    readonly ask: string;
    readonly answer: LessonQuestion & { readonly start: BenchState; readonly leads: readonly (BenchState | null)[] };
  };
  /** After the commitment; `text` is the whole text of the lesson. */
  readonly lesson: { readonly ask: { readonly id: string; readonly text: string }; readonly answer: LessonKey };
}

export type Kind = keyof Asks;

export interface Question<K extends Kind = Kind> {
  readonly ticket: number;
  readonly kind: K;
  readonly ask: Asks[K]['ask'];
}

export type Answer =
  | { readonly ticket: number; readonly ok: true; readonly value: Asks[Kind]['answer'] }
  | { readonly ticket: number; readonly ok: false; readonly message: string };

import {
  BENCH_CAUTION,
  BENCH_LEFT_OUT,
  benchAnswer,
  type BenchCurves,
  benchCurves,
  benchNeeds,
  type BenchState,
  benchStateText,
  benchVerdict,
  benchWords,
  lessonAnswer,
  lessonQuestion,
  LESSONS,
  MATERIALS,
} from '@limner/core';
import type { Answer, Asks, Kind, Question } from './protocol.ts';

/** Core beside the page, so that controls stay quick. The same functions as in Node: the page computes nothing. */
const DO: { readonly [K in Kind]: (ask: Asks[K]['ask']) => Asks[K]['answer'] } = {
  start: () => ({
    materials: MATERIALS.map(({ id, name }) => ({ id, name })),
    lessons: LESSONS.map(({ id, title, minutes }) => ({ id, title, minutes })),
    caution: BENCH_CAUTION,
    leftOut: BENCH_LEFT_OUT,
  }),
  curves: curvesOf,
  answer: (state: BenchState) => {
    const found = benchAnswer(state, curvesOf(state));
    return { found, words: benchWords(found, state, null) };
  },
  needs: ({ state, found }) => benchWords(found, state, benchNeeds(state, found)),
  verdict: benchVerdict,
  question: (id) => {
    const lesson = lessonOf(id);
    const state = (name: string | null): BenchState | null =>
      name === null ? null : (lesson.states.get(name) ?? null);
    return { ...lessonQuestion(lesson), start: state('start')!, leads: lesson.steps.map(({ to }) => state(to)) };
  },
  lesson: ({ id, text }) => lessonAnswer(lessonOf(id), text),
};

/** The curves drawn last: the answer to the same state needs them again. */
let last: { readonly of: string; readonly curves: BenchCurves } | null = null;

function curvesOf(state: BenchState): BenchCurves {
  const of = benchStateText({ ...state, out: null });
  if (last?.of !== of) last = { of, curves: benchCurves(state) };
  return last.curves;
}

function lessonOf(id: string) {
  const lesson = LESSONS.find((one) => one.id === id);
  if (lesson === undefined) throw new Error(`There is no lesson ${id}.`);
  return lesson;
}

self.addEventListener('message', (event: MessageEvent<Question>) => {
  const { ticket, kind, ask } = event.data;
  let answer: Answer;
  try {
    answer = { ticket, ok: true, value: (DO[kind] as (asked: unknown) => Asks[Kind]['answer'])(ask) };
  } catch (error) {
    answer = { ticket, ok: false, message: error instanceof Error ? error.message : String(error) };
  }
  self.postMessage(answer);
});

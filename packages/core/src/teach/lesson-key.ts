import { choicesIn, lessonText, paragraphs } from './lesson-text.ts';

/** What a lesson keeps back until the student has committed; sentences may hold places for numbers of core. */
export interface LessonKey {
  /** Index of the right choice. */
  readonly right: number;
  readonly answer: readonly string[];
  readonly sources: readonly string[];
}

/**
 * Reads the answer out of the whole text of a lesson.
 * @throws LessonError
 */
export function lessonKeyFrom(id: string, text: string): LessonKey {
  const { one, fault } = lessonText(id, text);
  const choices = choicesIn(one('question').lines);
  if (choices.filter(({ right }) => right).length !== 1) throw fault("one choice must be right: write it '- [x] ...'.");
  return {
    right: choices.findIndex(({ right }) => right),
    answer: paragraphs(one('answer').lines),
    sources: one('sources')
      .lines.filter((line) => line.startsWith('- '))
      .map((line) => line.slice(2)),
  };
}

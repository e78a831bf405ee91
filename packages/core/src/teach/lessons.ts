import { filled, type FigureMemory } from './figures.ts';
import { type Lesson, lessonFrom } from './lesson.ts';
import { type LessonKey, lessonKeyFrom } from './lesson-key.ts';
import packed from './lessons.json' with { type: 'json' };

/** The lessons of data/lessons without their answers, in the order of their file names. */
export const LESSONS: readonly Lesson[] = Object.entries(packed).map(([id, text]) => lessonFrom(id, text));

/** A lesson before the commitment, its numbers filled in. */
export interface LessonQuestion {
  readonly aim: string;
  readonly question: string;
  readonly choices: readonly string[];
  readonly steps: readonly string[];
  readonly explain: string;
}

/** What a student sees before committing. */
export function lessonQuestion(lesson: Lesson): LessonQuestion {
  const memory: FigureMemory = new Map();
  const fill = (text: string): string => filled(lesson, text, memory);
  return {
    aim: fill(lesson.aim),
    question: fill(lesson.question),
    choices: lesson.choices.map(fill),
    steps: lesson.steps.map(({ text }) => fill(text)),
    explain: fill(lesson.explain),
  };
}

/** The bench finds within that of what it expects in every lesson (lesson.test.ts). */
const EXPECTED_FIGURES =
  'Figures in sigma are the expected ones. Those in bold on the bench are for one spectrum with its noise: 1 sigma more or less, or a fifth of a large figure, is usual.';

/**
 * What a student sees after committing, its numbers filled in.
 * @param text the whole text of the lesson   @throws LessonError
 */
export function lessonAnswer(lesson: Lesson, text: string): LessonKey {
  const memory: FigureMemory = new Map();
  const { answer, ...rest } = lessonKeyFrom(lesson.id, text);
  const told = answer.map((paragraph) => filled(lesson, paragraph, memory));
  return { ...rest, answer: text.includes('{{sigma') ? [...told, EXPECTED_FIGURES] : told };
}

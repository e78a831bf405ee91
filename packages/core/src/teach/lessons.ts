import { filled, type FigureMemory } from './figures.ts';
import { type Lesson, lessonFrom } from './lesson.ts';
import packed from './lessons.json' with { type: 'json' };

/** The lessons of data/lessons, in the order of their file names. */
export const LESSONS: readonly Lesson[] = Object.entries(packed).map(([id, text]) => lessonFrom(id, text));

/** A lesson before the commitment, its numbers filled in. */
export interface LessonQuestion {
  readonly aim: string;
  readonly question: string;
  readonly choices: readonly string[];
  readonly steps: readonly string[];
  readonly explain: string;
}

/** What a student sees before committing: it holds neither answer nor which choice is right. */
export function lessonQuestion(lesson: Lesson): LessonQuestion {
  const memory: FigureMemory = new Map();
  const fill = (text: string): string => filled(lesson, text, memory);
  return {
    aim: fill(lesson.aim),
    question: fill(lesson.question),
    choices: lesson.choices.map(({ text }) => fill(text)),
    steps: lesson.steps.map(({ text }) => fill(text)),
    explain: fill(lesson.explain),
  };
}

/** What a lesson shows after the commitment. */
export interface LessonAnswer {
  /** Index of the right choice. */
  readonly right: number;
  readonly answer: readonly string[];
  readonly sources: readonly string[];
}

/** What a student sees after committing. */
export function lessonAnswer(lesson: Lesson): LessonAnswer {
  const memory: FigureMemory = new Map();
  return {
    right: lesson.choices.findIndex(({ right }) => right),
    answer: lesson.answer.map((text) => filled(lesson, text, memory)),
    sources: lesson.sources,
  };
}

import { type BenchState, benchStateFrom } from './bench-state.ts';
import { choicesIn, lessonText, paragraphs } from './lesson-text.ts';

/** A lesson up to its answer; sentences may hold places for numbers of core, in double braces. */
export interface Lesson {
  readonly id: string;
  readonly title: string;
  readonly aim: string;
  readonly minutes: number;
  /** Where the student starts, and other states that the text speaks of, by name. */
  readonly states: ReadonlyMap<string, BenchState>;
  /** What to predict before anything is moved. */
  readonly question: string;
  readonly choices: readonly string[];
  /** What to do on the bench, step by step; a step may lead to a state. */
  readonly steps: readonly Step[];
  /** What to explain in one sentence of one's own. */
  readonly explain: string;
}

export interface Step {
  readonly text: string;
  /** Name of the state that it leads to; null where the student moves the control. */
  readonly to: string | null;
}

/**
 * Reads a lesson up to its answer, which the text need not have. Blank lines separate paragraphs.
 * @throws LessonError
 */
export function lessonFrom(id: string, text: string): Lesson {
  const { title, all, one, fault } = lessonText(id, text);
  const states = new Map(all('state').map(({ argument, lines }) => [argument, stateIn(lines, fault)]));
  if (!states.has('start')) throw fault("it needs a section '## state start'.");
  const steps = all('step').map(({ argument, lines }) => ({ text: paragraphs(lines).join(' '), to: argument || null }));
  const lost = steps.find(({ to }) => to !== null && !states.has(to));
  if (lost) throw fault(`a step leads to '${lost.to}', and there is no such state.`);
  const question = one('question').lines;
  return {
    id,
    title,
    aim: paragraphs(one('aim').lines).join(' '),
    minutes: minutesIn(one('minutes').lines, fault),
    states,
    question: paragraphs(question.filter((line) => !line.startsWith('- ['))).join(' '),
    choices: choicesIn(question).map(({ text: choice }) => choice),
    steps,
    explain: paragraphs(one('explain').lines).join(' '),
  };
}

function stateIn(lines: readonly string[], fault: (message: string) => Error): BenchState {
  try {
    return benchStateFrom(lines.filter(Boolean).join('&'));
  } catch (error) {
    throw fault(error instanceof Error ? error.message : String(error));
  }
}

function minutesIn(lines: readonly string[], fault: (message: string) => Error): number {
  const minutes = Number(lines.join(''));
  if (minutes > 0) return minutes;
  throw fault('minutes must be a number.');
}

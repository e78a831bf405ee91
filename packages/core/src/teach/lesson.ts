import { type BenchState, benchStateFrom } from './bench-state.ts';

/** A lesson as its text file has it; sentences may hold places for numbers of core, in double braces. */
export interface Lesson {
  readonly id: string;
  readonly title: string;
  readonly aim: string;
  readonly minutes: number;
  /** Where the student starts, and other states that the text speaks of, by name. */
  readonly states: ReadonlyMap<string, BenchState>;
  /** What to predict before anything is moved. */
  readonly question: string;
  readonly choices: readonly Choice[];
  /** What to do on the bench, step by step; a step may lead to a state. */
  readonly steps: readonly Step[];
  /** What to explain in one sentence of one's own. */
  readonly explain: string;
  readonly answer: readonly string[];
  readonly sources: readonly string[];
}

export interface Choice {
  readonly text: string;
  readonly right: boolean;
}

export interface Step {
  readonly text: string;
  /** Name of the state that it leads to; null where the student moves the control. */
  readonly to: string | null;
}

/** A fault in a lesson's text: which lesson, what, and how it is written. */
export class LessonError extends Error {
  override readonly name = 'LessonError';
}

const SECTIONS = ['aim', 'minutes', 'state', 'question', 'step', 'explain', 'answer', 'sources'] as const;
type SectionName = (typeof SECTIONS)[number];

interface RawSection {
  readonly name: SectionName;
  readonly argument: string;
  readonly lines: readonly string[];
}

/**
 * Reads a lesson: a title after '# ', then sections that begin with '## NAME'. Blank lines separate paragraphs.
 * @throws LessonError
 */
export function lessonFrom(id: string, text: string): Lesson {
  const [head = '', ...rest] = text.replaceAll('\r\n', '\n').trim().split(/^## /m);
  const fault = (message: string): LessonError => new LessonError(`Lesson ${id}: ${message}`);
  const title = /^# (.+)$/m.exec(head)?.[1];
  if (title === undefined) throw fault("the first line must be the title, after '# '.");
  const sections = rest.map((section) => sectionFrom(section, fault));
  const all = (name: SectionName): RawSection[] => sections.filter((section) => section.name === name);
  const one = (name: SectionName): RawSection => {
    const [found, ...more] = all(name);
    if (found === undefined || more.length > 0) throw fault(`it needs one section '## ${name}'.`);
    return found;
  };
  const states = new Map(all('state').map(({ argument, lines }) => [argument, stateIn(lines, fault)]));
  if (!states.has('start')) throw fault("it needs a section '## state start'.");
  const steps = all('step').map(({ argument, lines }) => ({ text: paragraphs(lines).join(' '), to: argument || null }));
  const lost = steps.find(({ to }) => to !== null && !states.has(to));
  if (lost) throw fault(`a step leads to '${lost.to}', and there is no such state.`);
  const choices = choicesIn(one('question').lines);
  if (choices.filter(({ right }) => right).length !== 1) throw fault("one choice must be right: write it '- [x] ...'.");
  return {
    id,
    title,
    aim: paragraphs(one('aim').lines).join(' '),
    minutes: minutesIn(one('minutes').lines, fault),
    states,
    question: paragraphs(one('question').lines.filter((line) => !line.startsWith('- ['))).join(' '),
    choices,
    steps,
    explain: paragraphs(one('explain').lines).join(' '),
    answer: paragraphs(one('answer').lines),
    sources: one('sources')
      .lines.filter((line) => line.startsWith('- '))
      .map((line) => line.slice(2)),
  };
}

function sectionFrom(text: string, fault: (message: string) => Error): RawSection {
  const [head = '', ...lines] = text.split('\n');
  const [name = '', ...argument] = head.trim().split(/\s+/);
  if (!(SECTIONS as readonly string[]).includes(name))
    throw fault(`there is no section '${name}'; a lesson has ${SECTIONS.join(', ')}.`);
  return { name: name as SectionName, argument: argument.join(' '), lines: lines.map((line) => line.trim()) };
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

/** '- [x] right' and '- [ ] wrong'. */
function choicesIn(lines: readonly string[]): Choice[] {
  return lines.flatMap((line) => {
    const [, mark, text] = /^- \[([ x])\] (.+)$/.exec(line) ?? [];
    return text === undefined ? [] : [{ text, right: mark === 'x' }];
  });
}

/** Lines joined, blank lines part them. */
function paragraphs(lines: readonly string[]): string[] {
  return lines
    .join('\n')
    .split(/\n{2,}/)
    .map((paragraph) => paragraph.trim().replace(/\s*\n\s*/g, ' '))
    .filter(Boolean);
}

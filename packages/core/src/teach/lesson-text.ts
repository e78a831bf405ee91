/** A fault in a lesson's text: which lesson, what, and how it is written. */
export class LessonError extends Error {
  override readonly name = 'LessonError';
}

const SECTIONS = ['aim', 'minutes', 'state', 'question', 'step', 'explain', 'answer', 'sources'] as const;
type SectionName = (typeof SECTIONS)[number];

/** A section of a lesson's text: '## NAME ARGUMENT' and the lines below it. */
export interface Section {
  readonly name: SectionName;
  readonly argument: string;
  readonly lines: readonly string[];
}

/** The text of a lesson, taken apart. */
export interface LessonText {
  readonly title: string;
  readonly all: (name: SectionName) => Section[];
  /** @throws LessonError unless there is just one */
  readonly one: (name: SectionName) => Section;
  readonly fault: (message: string) => LessonError;
}

/**
 * Takes the text of a lesson apart: a title after '# ', then sections that begin with '## NAME'.
 * @throws LessonError
 */
export function lessonText(id: string, text: string): LessonText {
  const fault = (message: string): LessonError => new LessonError(`Lesson ${id}: ${message}`);
  const [head = '', ...rest] = text.replaceAll('\r\n', '\n').trim().split(/^## /m);
  const title = /^# (.+)$/m.exec(head)?.[1];
  if (title === undefined) throw fault("the first line must be the title, after '# '.");
  const sections = rest.map((section) => sectionFrom(section, fault));
  const all = (name: SectionName): Section[] => sections.filter((section) => section.name === name);
  const one = (name: SectionName): Section => {
    const [found, ...more] = all(name);
    if (found === undefined || more.length > 0) throw fault(`it needs one section '## ${name}'.`);
    return found;
  };
  return { title, all, one, fault };
}

function sectionFrom(text: string, fault: (message: string) => Error): Section {
  const [head = '', ...lines] = text.split('\n');
  const [name = '', ...argument] = head.trim().split(/\s+/);
  if (!(SECTIONS as readonly string[]).includes(name))
    throw fault(`there is no section '${name}'; a lesson has ${SECTIONS.join(', ')}.`);
  return { name: name as SectionName, argument: argument.join(' '), lines: lines.map((line) => line.trim()) };
}

/** A choice of the question: '- [x] right' and '- [ ] wrong'. */
export interface Choice {
  readonly text: string;
  readonly right: boolean;
}

export function choicesIn(lines: readonly string[]): Choice[] {
  return lines.flatMap((line) => {
    const [, mark, text] = /^- \[([ x])\] (.+)$/.exec(line) ?? [];
    return text === undefined ? [] : [{ text, right: mark === 'x' }];
  });
}

/** Lines joined, blank lines part them. */
export function paragraphs(lines: readonly string[]): string[] {
  return lines
    .join('\n')
    .split(/\n{2,}/)
    .map((paragraph) => paragraph.trim().replace(/\s*\n\s*/g, ' '))
    .filter(Boolean);
}

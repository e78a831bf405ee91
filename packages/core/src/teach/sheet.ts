import { agrees, STUDENT_VERDICTS, type StudentAnswer, type StudentVerdict } from './marking.ts';
import type { Exercise } from './exercise.ts';

/** Columns of a student's sheet; `about` is an element's symbol or MATERIAL. */
export const SHEET_COLUMNS = ['exercise', 'about', 'answer', 'probability'] as const;
export const MATERIAL = 'material';

/** The sheet to fill in: a line per element asked about and one for the material. */
export const blankSheet = (exercises: readonly Exercise[]): (readonly string[])[] => [
  SHEET_COLUMNS,
  ...exercises.flatMap(({ number, asked }) => [...asked, MATERIAL].map((about) => [String(number), about, '', ''])),
];

/** A student's sheet as read: answers by exercise and symbol, materials by exercise, and what cannot be read, a line each. */
export interface ReadSheet {
  readonly answers: ReadonlyMap<string, StudentAnswer>;
  readonly materials: ReadonlyMap<number, string>;
  readonly faults: readonly string[];
}

export const answerKey = (exercise: number, symbol: string): string => `${exercise} ${symbol}`;

/**
 * Reads what a student filled in; faults are named and left out.
 * @param rows cells by column, with the line of the file
 */
export function readSheet(
  rows: readonly { readonly line: number; readonly cells: ReadonlyMap<string, string> }[],
  exercises: readonly Exercise[],
): ReadSheet {
  const answers = new Map<string, StudentAnswer>();
  const materials = new Map<number, string>();
  const faults: string[] = [];
  for (const { line, cells } of rows) {
    const [exercise = '', about = '', answer = '', probability = ''] = SHEET_COLUMNS.map((column) => cells.get(column));
    if (answer === '') continue;
    const found = exercises.find(({ number }) => String(number) === exercise);
    if (found === undefined) faults.push(`line ${line}: there is no exercise '${exercise}'`);
    else if (about === MATERIAL) materials.set(found.number, answer);
    else if (!found.asked.includes(about))
      faults.push(`line ${line}: exercise ${exercise} does not ask about '${about}'`);
    else {
      const read = answerFrom(answer, probability);
      if (typeof read === 'string') faults.push(`line ${line}: ${read}`);
      else answers.set(answerKey(found.number, about), read);
    }
  }
  return { answers, materials, faults };
}

/** An answer, or what is wrong with it. */
function answerFrom(text: string, probability: string): StudentAnswer | string {
  const verdict = text.toLowerCase().replace(/\s+/g, '-');
  if (!(STUDENT_VERDICTS as readonly string[]).includes(verdict))
    return `'${text}' is not an answer; write ${STUDENT_VERDICTS.join(', ')}`;
  const percent = probability === '' ? null : Number(probability.replace(/\s*%$/, ''));
  if (percent !== null && !(percent >= 0 && percent <= 100))
    return `probability '${probability}'; write it in per cent, 0 to 100`;
  const answer = { verdict: verdict as StudentVerdict, probability: percent === null ? null : percent / 100 };
  return agrees(answer) ? answer : `'${text}' and a probability of ${probability} contradict each other`;
}

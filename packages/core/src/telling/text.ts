import type { ExpectedLine } from '../peaks/expected-strength.ts';
import type { ClashAnswer } from '../record/clash-answer.ts';
import type { LimnerRecord } from '../record/record.ts';
import type { MeasurementPlan } from '../record/measurement-plan.ts';
import { hiddenLines, type LinesAsked, linesTree } from './lines.ts';
import { planTree } from './plan.ts';
import { readingTree } from './reading.ts';
import { type TextOptions, treeText } from './terminal.ts';
import { paragraph, type Tree } from './sections/tree.ts';
import { clashTree } from './clash.ts';

/** How a reading is printed. */
export interface ReadingTextOptions extends TextOptions {
  /** How a person calls the command line; 'limner' if left out. */
  readonly command?: string;
}

/** A record as plain text: one screen, or all of it. Derived from the record alone. */
export function readingText(record: LimnerRecord, options: ReadingTextOptions = {}): string {
  const tree = readingTree(record);
  return treeText(withHint(tree, moreText(options.command ?? 'limner'), options), options);
}

const moreText = (command: string): string =>
  `${command} identify FILE --full prints every argument, limit, ratio and caution; ${command} plan FILE proposes the next measurement.`;

/** A short telling ends with what more there is to ask the command line for. */
function withHint(tree: Tree, text: string, { length }: TextOptions): Tree {
  const hint = length === 'full' ? null : paragraph('more', text);
  return { ...tree, nodes: [...tree.nodes, ...(hint ? [hint] : [])] };
}

/** X-ray lines as plain text. */
export function linesText(lines: readonly ExpectedLine[], asked: LinesAsked, options: TextOptions = {}): string {
  const hidden = hiddenLines(lines, asked);
  return treeText(
    withHint(linesTree(lines, asked), hidden && `${hidden} are left out; --full or --json prints them.`, options),
    options,
  );
}

/** A plan as plain text. */
export const planText = (plan: MeasurementPlan, options: TextOptions = {}): string => treeText(planTree(plan), options);

/** A clash as plain text. */
export const clashText = (answer: ClashAnswer, options: TextOptions = {}): string =>
  treeText(clashTree(answer), options);

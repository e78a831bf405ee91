import type { Line } from '../atomic/lines.ts';
import type { Clash } from '../peaks/clash.ts';
import type { LimnerRecord } from '../record/record.ts';
import type { MeasurementPlan } from '../record/measurement-plan.ts';
import { faintLines, linesTree } from './lines.ts';
import { planTree } from './plan.ts';
import { readingTree } from './reading.ts';
import { type TextOptions, treeText } from './terminal.ts';
import { paragraph, type Tree } from './sections/tree.ts';
import { clashTree } from './clash.ts';

/** A record as plain text: one screen, or all of it. Derived from the record alone. */
export function readingText(record: LimnerRecord, options: TextOptions = {}): string {
  const tree = readingTree(record);
  return treeText(withHint(tree, MORE, options), options);
}

const MORE = '--full prints every argument, limit, ratio and caution; limner plan proposes the next measurement.';

/** A short telling ends with what more there is to ask the command line for. */
function withHint(tree: Tree, text: string, { length }: TextOptions): Tree {
  const hint = length === 'full' ? null : paragraph('more', text);
  return { ...tree, nodes: [...tree.nodes, ...(hint ? [hint] : [])] };
}

/** X-ray lines as plain text. @param near energy that they lie near, eV; null: none was asked for */
export function linesText(lines: readonly Line[], near: number | null, options: TextOptions = {}): string {
  const faint = faintLines(lines);
  return treeText(withHint(linesTree(lines, near), faint && `${faint}: --full or --json.`, options), options);
}

/** A plan as plain text. */
export const planText = (plan: MeasurementPlan, options: TextOptions = {}): string => treeText(planTree(plan), options);

/** A clash as plain text. */
export const clashText = (clash: Clash, options: TextOptions = {}): string => treeText(clashTree(clash), options);

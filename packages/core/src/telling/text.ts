import type { Clash } from '../peaks/clash.ts';
import type { LimnerRecord } from '../record/record.ts';
import type { MeasurementPlan } from '../record/measurement-plan.ts';
import { planTree } from './plan.ts';
import { readingTree } from './reading.ts';
import { type TextOptions, treeText } from './terminal.ts';
import { paragraph, type Tree } from './tree.ts';
import { clashTree } from './clash.ts';

/** A record as plain text: one screen, or all of it. Derived from the record alone. */
export function readingText(record: LimnerRecord, options: TextOptions = {}): string {
  const tree = readingTree(record);
  return treeText(options.length === 'full' ? tree : withHint(tree), options);
}

/** What more there is to ask the command line for. */
function withHint(tree: Tree): Tree {
  const hint = paragraph(
    'more',
    '--full prints every argument, limit, ratio and caution; limner plan proposes the next measurement.',
  );
  return { ...tree, nodes: [...tree.nodes, ...(hint ? [hint] : [])] };
}

/** A plan as plain text. */
export const planText = (plan: MeasurementPlan, options: TextOptions = {}): string => treeText(planTree(plan), options);

/** A clash as plain text. */
export const clashText = (clash: Clash, options: TextOptions = {}): string => treeText(clashTree(clash), options);

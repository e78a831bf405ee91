// What to do next with the grains of a sample: steps of single grains, joined.

import { phaseQuestions } from '../../evidence/phase-plan.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { findingsWith } from '../sections/answer.ts';
import { MEASUREMENT_EFFORT, phaseSteps } from '../sections/steps.ts';
import { cell, column, type Node, paragraph, type Row, row, section, table } from '../sections/tree.ts';
import { MOST_SAMPLE_STEPS } from '../terms/cutoffs.ts';
import { isCrowd, lineOf, namedRival, rivalName } from '../terms/names.ts';
import { counted, listedUpTo, probabilityText } from '../terms/numerals.ts';

/** A step that would settle something of one grain, in words. */
export interface GrainStep {
  readonly step: string;
  readonly between: string;
  /** Chance that it settles it; null where only a plan can tell. */
  readonly settles: number | null;
  readonly look: string;
  readonly touches: boolean;
  /** What it settles for its effort. */
  readonly worth: number;
}

/** What would settle most of what a reading leaves open: one technique for each question between materials, and the open elements. */
export function grainSteps(record: LimnerRecord): GrainStep[] {
  const phases = phaseQuestions(record.explanations).flatMap((question) =>
    phaseSteps(question)
      .sort((a, b) => Number(a.touches) - Number(b.touches) || b.worth - a.worth)
      .slice(0, 1)
      .map(({ step, between, settles, look, touches, worth }) => ({ step, between, settles, look, touches, worth })),
  );
  return [...phases, ...elementSteps(record)];
}

/** An even chance stands in for the one that a plan would work out. */
const UNPLANNED = 0.5;

/** Open elements are measured again: with more counts where a line here tells them from their rival, else at another beam energy. */
function elementSteps(record: LimnerRecord): GrainStep[] {
  return findingsWith(record, 'open').map(({ symbol, rivals }) => {
    const rival = namedRival(rivals);
    const telling = rival && !isCrowd(rival) ? rival.settling[0] : undefined;
    const elsewhere = rival !== undefined && telling === undefined;
    return {
      step: elsewhere ? 'EDX at another beam energy' : 'EDX with more counts',
      between: rival ? `${symbol} or ${rivalName(rival)}` : `${symbol} or no ${symbol}`,
      settles: null,
      look: telling ? lineOf(telling.symbol, telling.line) : '',
      touches: false,
      worth: UNPLANNED / MEASUREMENT_EFFORT,
    };
  });
}

const COLUMNS = [
  column('step', 'next step'),
  column('between', 'to tell'),
  column('grains', 'grains'),
  column('settles', 'settles', 'right'),
  column('look', 'look for'),
];

/** Grains that a step names. */
const MOST_GRAINS_NAMED = 4;

/** Steps for a sample: the same question of several grains is one step; most settled first, what uses up the sample last. */
export function sampleSteps(
  sample: string,
  grains: readonly { readonly name: string; readonly steps: readonly GrainStep[] }[],
): Node | null {
  const joined = new Map<string, { readonly step: GrainStep; readonly names: string[] }>();
  for (const { name, steps } of grains)
    for (const step of steps) {
      const key = `${step.step}\n${step.between}`;
      const known = joined.get(key);
      if (known) known.names.push(name);
      else joined.set(key, { step, names: [name] });
    }
  const all = [...joined.values()].sort(
    (a, b) =>
      Number(a.step.touches) - Number(b.step.touches) || b.step.worth * b.names.length - a.step.worth * a.names.length,
  );
  const told = all.slice(0, MOST_SAMPLE_STEPS);
  return section(`steps-${sample}`, 'What to do next', [
    table(
      `step-table-${sample}`,
      `Next steps for the grains of sample ${sample}`,
      COLUMNS,
      told.map(({ step, names }, i) => stepRow(`step-${sample}-${i + 1}`, step, names)),
    ),
    paragraph(
      `step-notes-${sample}`,
      notes(
        told.map(({ step }) => step),
        all.length - told.length,
      ),
      'brief',
      'note',
    ),
  ]);
}

const stepRow = (id: string, { step, between, settles, look, touches }: GrainStep, names: readonly string[]): Row =>
  row(id, [
    cell(touches ? `${step} (uses up the grain)` : step),
    cell(between),
    cell(listedUpTo(MOST_GRAINS_NAMED, names)),
    cell(settles === null ? '' : probabilityText(settles), settles),
    cell(look),
  ]);

/** @param left number of steps that are not told */
const notes = (told: readonly GrainStep[], left: number): string =>
  [
    told.some(({ settles }) => settles === null)
      ? 'limner plan FILE works out the beam energy and the counts needed.'
      : '',
    left > 0 ? `${counted(left, 'more step')} would settle less.` : '',
  ]
    .filter(Boolean)
    .join(' ');

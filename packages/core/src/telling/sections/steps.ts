import type { PhaseProposal, PhaseQuestion, Remaining } from '../../evidence/phase-plan.ts';
import type { PlannedQuestion } from '../../record/measurement-plan.ts';
import { MOST_OF_FAMILY, MOST_SHOWN, MOST_STEPS } from '../terms/cutoffs.ts';
import { alternatives, insteadText, lineOf, shortName, shortNames, within } from '../terms/names.ts';
import { capital, fixed, listed, numberWord, probabilityText } from '../terms/numerals.ts';
import { cell, column, type Node, type Row, row, section, spareColumn, table } from './tree.ts';

const COLUMNS = [
  column('step', 'next step'),
  column('question', 'for'),
  column('settles', 'settles', 'right'),
  column('look', 'look for'),
  spareColumn('touches', 'the sample'),
];

const TECHNIQUES: Readonly<Record<PhaseProposal['technique'], string>> = {
  microscopy: 'polarised light microscopy',
  image: 'secondary electron imaging',
  ultraviolet: 'ultraviolet light, 365\u00a0nm',
  raman: 'Raman microscopy, low laser power',
  infrared: 'infrared microscopy',
  diffraction: 'X-ray diffraction',
  microchemistry: 'microchemical test',
};

/** What an EDX measurement takes, against a look through the microscope: its effort in the same units as the techniques'. */
export const MEASUREMENT_EFFORT = 2;

/** Every step that would settle something, the most for its effort first; what leaves the sample alone before what uses it up. */
export function steps(questions: readonly PlannedQuestion[], phases: readonly PhaseQuestion[]): Node | null {
  const all = [...questions.flatMap(measurementRow), ...phases.flatMap(phaseRows)];
  all.sort((a, b) => Number(a.touches) - Number(b.touches) || b.worth - a.worth);
  const rows = all.map(({ told }, i) => ({ ...told, length: i < MOST_STEPS ? ('brief' as const) : ('full' as const) }));
  return section('steps', 'What to do next, most gained for least effort first', [
    table('step-table', 'Next steps, with what each would settle and what to look for', COLUMNS, rows),
  ]);
}

interface Step {
  readonly told: Row;
  readonly worth: number;
  readonly touches: boolean;
}

function measurementRow({ question, proposal }: PlannedQuestion): Step[] {
  if (proposal === null) return [];
  const { symbol, instead, why } = question;
  const { beamKev, counts, confidence, lines } = proposal;
  const told = row(`step-${symbol}-${why}`, [
    cell(`EDX at ${beamKev}\u00a0keV, ${fixed(counts, 0)} counts`),
    cell(instead.length > 0 ? `${symbol} or ${insteadText(instead)}` : symbol),
    cell(probabilityText(confidence), confidence),
    cell(lines[0] ? lineOf(lines[0].symbol, lines[0].line) : ''),
    cell('kept; exposed to the beam'),
  ]);
  return [{ told, worth: confidence / MEASUREMENT_EFFORT, touches: false }];
}

function phaseRows(question: PhaseQuestion): Step[] {
  return phaseSteps(question).map(({ technique, step, between, settles, look, touches, worth }) => ({
    told: row(`step-${question.remaining[0].id}-${technique}`, [
      cell(step),
      cell(between),
      cell(probabilityText(settles), settles),
      cell(look),
      cell(touches ? 'used up' : 'kept'),
    ]),
    worth,
    touches,
  }));
}

/** A technique that tells materials apart, in words. */
export interface PhaseStep {
  readonly technique: PhaseProposal['technique'];
  readonly step: string;
  /** 'azurite or malachite' */
  readonly between: string;
  /** Chance that it settles it. */
  readonly settles: number;
  readonly look: string;
  /** Uses up the sample. */
  readonly touches: boolean;
  /** What it settles for its effort. */
  readonly worth: number;
}

/** What could decide between the materials that elements leave, best first. */
export const phaseSteps = ({ remaining, proposals }: PhaseQuestion): PhaseStep[] =>
  proposals.map((proposal) => {
    const { technique, touches, effort, settles } = proposal;
    return {
      technique,
      step: capital(TECHNIQUES[technique]),
      between: remainingText(remaining),
      settles,
      look: looks(proposal),
      touches,
      worth: settles / effort,
    };
  });

/** 'azurite, malachite or 3 more' */
export function remainingText(remaining: readonly Remaining[]): string {
  const names = shortNames(remaining.map(({ name }) => name));
  if (names.length <= MOST_OF_FAMILY) return alternatives(names);
  return alternatives([
    ...names.slice(0, MOST_OF_FAMILY - 1),
    `${numberWord(names.length - MOST_OF_FAMILY + 1)} others`,
  ]);
}

/** What tells best for its effort, with what to look for, and what tells of still more. */
export function decidedBy([best, ...others]: readonly PhaseProposal[]): string | null {
  if (best === undefined) return null;
  const more = others.filter(({ settles }) => settles > best.settles).sort((a, b) => b.settles - a.settles)[0];
  const also = more === undefined ? '' : `; for the rest, ${TECHNIQUES[more.technique]}`;
  return `${TECHNIQUES[best.technique]} (${looks(best)})${also}`;
}

/** 'lead white or cerussite: white; red lead: orange' */
function looks({ look, technique }: PhaseProposal): string {
  const alike = new Map<string, string[]>();
  for (const { name, shows } of look) {
    const words = shownText(shows, technique);
    alike.set(words, [...(alike.get(words) ?? []), shortName(within(name))]);
  }
  return [...alike].map(([words, names]) => `${alternatives(names)}: ${words}`).join('; ');
}

function shownText(shows: readonly string[], technique: PhaseProposal['technique']): string {
  const unit = technique === 'raman' || technique === 'infrared' ? '\u00a0cm-1' : '';
  const told = shows.slice(0, MOST_SHOWN);
  return unit ? `${listed(told)}${unit}` : alternatives(told.map((word) => word.replace('-', ' ')));
}

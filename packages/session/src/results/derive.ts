import {
  DATING_FROM,
  bestFitting,
  CANDIDATE_ELEMENTS,
  type GrainComposition,
  compositionIn,
  findingsWith,
  type LimnerRecord,
  symbolOf,
} from '@limner/core';
import { type Amounts, amountsIn, type Position, positionIn } from '../input/position.ts';
import { reportRow, reportSection } from '../page/report-parts.ts';
import { elementHeading, elementRow, pigmentRows } from './tables.ts';

/** All that the output files say of one spectrum, as text ready to be appended, and what grouping needs. */
export interface Derived {
  readonly line: string;
  readonly elements: string;
  readonly pigments: string;
  readonly row: string;
  readonly section: string;
  readonly cautions: readonly string[];
  readonly found: Found;
  readonly totalCounts: number;
  readonly composition: GrainComposition;
  /** Where it was taken, and how much of each element is there; null where the header does not say. */
  readonly placed: { readonly position: Position; readonly amounts: Amounts } | null;
}

/** What was found in one spectrum, briefly. */
export interface Found {
  /** Symbols required by the counts, not from the mounting alone; most counts first. */
  readonly present: readonly string[];
  readonly open: readonly string[];
  /** The material that fits best, if one stands out, with its years of use. */
  readonly best: Material | null;
  /** Its argument for the latest date, if it has any. */
  readonly dating: GrainDating | null;
  /** What does not go with the stated date, as questions. */
  readonly questions: readonly string[];
}

/** Why a grain is not older than a year. */
export interface GrainDating {
  readonly year: number;
  readonly symbol: string;
  readonly weakestLink: string;
}

export interface Material {
  readonly id: string;
  readonly name: string;
  /** How many others the same elements allow. */
  readonly alike: number;
  readonly earliestUse: number | null;
  readonly latestUse: number | null;
}

const SYMBOLS = CANDIDATE_ELEMENTS.map(symbolOf);
export const ELEMENT_SYMBOLS: readonly string[] = SYMBOLS;
export const ELEMENT_HEADING = elementHeading(SYMBOLS);

export function derive(record: LimnerRecord): Derived {
  const position = positionIn(record.header);
  return {
    line: `${JSON.stringify(record)}\n`,
    elements: elementRow(record, SYMBOLS),
    pigments: pigmentRows(record),
    row: reportRow(record),
    section: reportSection(record),
    cautions: record.cautions,
    found: foundIn(record),
    totalCounts: record.conditions.totalCounts,
    composition: compositionIn(record.elements),
    placed: position && { position, amounts: amountsIn(record) },
  };
}

/** What grouping by layer needs of a record. */
export function foundIn(record: LimnerRecord): Found {
  const present = findingsWith(record, 'present').filter(({ origin }) => origin !== 'setting');
  const best = bestFitting(record);
  const latest = record.dating.find(({ year }) => year >= DATING_FROM);
  const standing = best && record.pigments.find(({ name }) => name === best.name);
  return {
    present: present.map(({ symbol }) => symbol),
    open: findingsWith(record, 'open').map(({ symbol }) => symbol),
    best: standing
      ? {
          id: standing.id,
          name: standing.name,
          alike: best.alike.length,
          earliestUse: standing.earliestUse,
          latestUse: standing.latestUse,
        }
      : null,
    dating: latest ? { year: latest.year, symbol: latest.symbol, weakestLink: latest.weakestLink.text } : null,
    questions: record.statedDate?.questions.map(({ question }) => question) ?? [],
  };
}

import type { ElementFinding, LimnerRecord } from '@limner/core';
import { type Cell, csv } from '../input/csv.ts';
import type { Failure } from '../input/failure.ts';
import type { Place } from '../input/sheet.ts';

/** Columns of elements.csv. */
export const ELEMENT_COLUMNS = [
  'file',
  'sample',
  'layer',
  'particle',
  'element',
  'verdict',
  'probability',
  'counts',
  'counts_sigma',
  'limit_counts',
  'mass_fraction',
  'mass_fraction_sigma',
  'limit_mass_fraction',
  'origin',
  'under',
  'rivals',
] as const;
export const ELEMENT_HEADING = csv([[...ELEMENT_COLUMNS]]);

/** The rows of elements.csv for one spectrum: every element, in the order of the record. */
export function elementRows({ source, elements }: LimnerRecord, place: Placed | null): string {
  const grain: Cell[] = [source.name, place?.sample ?? null, place?.layer ?? null, place?.particle ?? null];
  return csv(elements.map((finding) => [...grain, ...elementCells(finding)]));
}

/** Where a grain lies, as the sheet says. */
export type Placed = Pick<Place, 'sample' | 'layer' | 'particle'>;

function elementCells(finding: ElementFinding): Cell[] {
  const { symbol, verdict, probability, counts, massFraction, limit, origin, under, rivals } = finding;
  return [
    symbol,
    verdict,
    sixDigits(probability),
    sixDigits(counts.value),
    sixDigits(counts.sigma),
    limit && sixDigits(limit.counts),
    massFraction && sixDigits(massFraction.value),
    massFraction && sixDigits(massFraction.sigma),
    limit && sixDigits(limit.massFraction),
    origin,
    under,
    rivals.map(({ name }) => name).join('; '),
  ];
}

export const PIGMENT_HEADING = csv([['file', 'id', 'name', 'standing', 'score', 'reason']]);

/** The rows of pigments.csv for one spectrum, best first. @param ruledOut also those that it rules out */
export function pigmentRows({ source, pigments }: LimnerRecord, ruledOut: boolean): string {
  const told = pigments.filter(({ standing }) => ruledOut || standing !== 'ruled-out');
  return csv(told.map(({ id, name, standing, score, reason }) => [source.name, id, name, standing, score, reason]));
}

export const FAILURE_HEADING = csv([['file', 'reason']]);

export function failureRow({ file, reason }: Failure): string {
  return csv([[file, reason]]);
}

/** Six significant digits: more than any of these numbers bears. */
export const sixDigits = (value: number): number => Number(value.toPrecision(6));

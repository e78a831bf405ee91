import type { ElementFinding, LimnerRecord } from '@limner/core';
import { type Cell, csv } from '../input/csv.ts';
import type { Failure } from '../input/failure.ts';
import { ELEMENT_SYMBOLS } from '../summary/point.ts';

export const SPECTRUM_COLUMNS = [
  'file',
  'title',
  'sha256',
  'beam_kev',
  'total_counts',
  'present',
  'open',
  'unexplained_peaks',
  'warnings',
] as const;

export const ELEMENT_COLUMNS = [
  'verdict',
  'probability',
  'counts',
  'counts_sigma',
  'mass_fraction',
  'mass_fraction_sigma',
] as const;

/** Heading of elements.csv: the spectrum, then six columns for each element. */
export function elementHeading(symbols: readonly string[] = ELEMENT_SYMBOLS): string {
  return csv([
    [...SPECTRUM_COLUMNS, ...symbols.flatMap((symbol) => ELEMENT_COLUMNS.map((column) => `${symbol}_${column}`))],
  ]);
}

/** The row of elements.csv for one spectrum. */
export function elementRow(record: LimnerRecord, symbols: readonly string[] = ELEMENT_SYMBOLS): string {
  const bySymbol = new Map(record.elements.map((finding) => [finding.symbol, finding]));
  return csv([[...spectrumCells(record), ...symbols.flatMap((symbol) => elementCells(bySymbol.get(symbol)))]]);
}

function spectrumCells({ source, conditions, elements, peaks, warnings }: LimnerRecord): Cell[] {
  const symbols = (verdict: ElementFinding['verdict']): string =>
    elements
      .filter((finding) => finding.verdict === verdict)
      .sort((a, b) => b.counts.value - a.counts.value || a.z - b.z)
      .map(({ symbol }) => symbol)
      .join(' ');
  return [
    source.name,
    source.title,
    source.sha256,
    conditions.beamKev.value,
    conditions.totalCounts,
    symbols('present'),
    symbols('open'),
    peaks.filter(({ explainedBy }) => explainedBy.length === 0).length,
    warnings.map(({ code }) => code).join(' '),
  ];
}

function elementCells(finding: ElementFinding | undefined): Cell[] {
  if (finding === undefined) return ELEMENT_COLUMNS.map(() => null);
  const { verdict, probability, counts, massFraction } = finding;
  return [
    verdict,
    sixDigits(probability),
    sixDigits(counts.value),
    sixDigits(counts.sigma),
    massFraction && sixDigits(massFraction.value),
    massFraction && sixDigits(massFraction.sigma),
  ];
}

export const PIGMENT_HEADING = csv([['file', 'id', 'name', 'standing', 'score', 'reason']]);

/** The rows of pigments.csv for one spectrum: every material of the table, best first. */
export function pigmentRows({ source, pigments }: LimnerRecord): string {
  return csv(pigments.map(({ id, name, standing, score, reason }) => [source.name, id, name, standing, score, reason]));
}

export const FAILURE_HEADING = csv([['file', 'reason']]);

export function failureRow({ file, reason }: Failure): string {
  return csv([[file, reason]]);
}

/** Six significant digits: more than any of these numbers bears. */
export const sixDigits = (value: number): number => Number(value.toPrecision(6));

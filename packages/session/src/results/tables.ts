import type { ElementFinding, LimnerRecord } from '@limner/core';
import { stringify } from 'csv-stringify/sync';

type Cell = string | number | null;

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

/** Heading of elements.csv for these elements: the spectrum, then six columns for each element. */
export function elementHeading(symbols: readonly string[]): string {
  return csv([
    [...SPECTRUM_COLUMNS, ...symbols.flatMap((symbol) => ELEMENT_COLUMNS.map((column) => `${symbol}_${column}`))],
  ]);
}

/** The row of elements.csv for one spectrum. */
export function elementRow(record: LimnerRecord, symbols: readonly string[]): string {
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
    short(probability),
    short(counts.value),
    short(counts.sigma),
    massFraction && short(massFraction.value),
    massFraction && short(massFraction.sigma),
  ];
}

export const PIGMENT_HEADING = csv([['file', 'id', 'name', 'standing', 'score', 'reason']]);

/** The rows of pigments.csv for one spectrum: every material known, best first. */
export function pigmentRows({ source, pigments }: LimnerRecord): string {
  return csv(pigments.map(({ id, name, standing, score, reason }) => [source.name, id, name, standing, score, reason]));
}

export interface Failure {
  readonly file: string;
  readonly reason: string;
}

export const FAILURE_HEADING = csv([['file', 'reason']]);

export function failureRow({ file, reason }: Failure): string {
  return csv([[file, reason]]);
}

/**
 * Comma-separated lines (RFC 4180 quoting). Text that a spreadsheet would take for a formula (it begins with = + - @, tab or
 * carriage return) gets a single quote in front, since titles and file names come from outside; numbers stay numbers.
 */
export function csv(rows: readonly (readonly Cell[])[]): string {
  return rows.length === 0
    ? ''
    : stringify(
        rows.map((row) => [...row]),
        { escape_formulas: true, record_delimiter: '\n' },
      );
}

/** Six significant digits: more than any of these numbers bears. */
const short = (value: number): number => Number(value.toPrecision(6));

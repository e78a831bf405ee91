// Words of a session's report: its head, and what is told once for all spectra; the renderer in @limner/session lays them out.

import { cell, column, item, list, type Node, row, section, table, type Table } from '../sections/tree.ts';
import { counted, fixed, keV, listed, listedUpTo } from '../terms/numerals.ts';
import { spectraText } from './view.ts';

/** A session as the head of its report names it. */
export interface ReportHead {
  /** Of the results, YYYY-MM-DD. */
  readonly date: string;
  /** First and last day on which its spectra were taken, as far as their headers say; empty where none does. */
  readonly taken: readonly string[];
  /** Who measured, as the headers say; each name once. */
  readonly owners: readonly string[];
  readonly spectra: number;
  readonly failures: number;
  /** Files with the same bytes as another, which is counted. */
  readonly copies: number;
  /** Beam energies of its spectra, keV, each once. */
  readonly beamsKev: readonly number[];
  readonly version: string;
  readonly atomicData: string;
  readonly pigmentData: string;
  /** Options other than the usual ones, as they were given. */
  readonly options: Readonly<Record<string, unknown>>;
  /** SHA-256 over names and contents of all files. */
  readonly session: string;
}

/** Title of a report. @param spectra their number */
export const reportTitle = (spectra: number): string => `Readings of ${spectraText(spectra)}`;

/** What the report says around its sections. */
export const REPORT_WORDS = {
  /** Before the tables. */
  lead: 'Elements suggest a material; they never prove one. Mass fractions are standardless estimates.',
  /** Heading over the spectra. */
  appendix: 'The spectra, one by one',
  /** Column with the first digits of each file's hash. */
  hash: 'SHA-256 begins',
  /** Title of a further page. @param first number of its first spectrum */
  from: (first: number): string => `Readings from spectrum ${fixed(first, 0)} onwards`,
  /** Where a further page leads back to; the name of the first page follows. */
  back: 'The table of all spectra and the cautions are in',
  previous: 'Previous spectra',
  next: 'Next spectra',
} as const;

/** What was read, when, how and by what. */
export function reportHeadTable(head: ReportHead): Table | null {
  const {
    date,
    taken,
    owners,
    spectra,
    failures,
    copies,
    beamsKev,
    version,
    atomicData,
    pigmentData,
    options,
    session,
  } = head;
  const told = Object.entries(options).map(([name, value]) => `${name} ${plain(value)}`);
  const failed = failures > 0 ? `, ${counted(failures, 'file')} not read` : '';
  const alike = copies > 0 ? `; ${counted(copies, 'copy', 'copies')} not counted again` : '';
  const rows: readonly (readonly [id: string, name: string, text: string])[] = [
    ['taken', 'measured', measuredText(taken, owners)],
    ['date', 'date of the results', date],
    [
      'spectra',
      'spectra',
      `${fixed(spectra, 0)} read${failed}${alike}; their names and hashes are in the list of all spectra`,
    ],
    [
      'beam',
      'beam',
      listed([...beamsKev].sort((a, b) => a - b).map((kev) => keV(1000 * kev).replace(/\.?0+(?=\u00a0)/, ''))),
    ],
    ['options', 'options', told.length > 0 ? told.join('; ') : 'the defaults'],
    ['software', 'read by', `Limner ${version}, atomic data ${atomicData}, materials ${pigmentData}`],
    ['session', 'files', `SHA-256 ${session}`],
  ];
  return table(
    'report-head',
    'What was read, and how',
    [column('name', ''), column('text', '')],
    rows.filter(([, , text]) => text !== '').map(([id, name, text]) => row(`report-${id}`, [cell(name), cell(text)])),
  );
}

/** Names of people that the head lists. */
const MOST_OWNERS = 5;

/** '2026-03-03 to 2026-03-05, by A. Reader' */
function measuredText(taken: readonly string[], owners: readonly string[]): string {
  const days = [...new Set(taken)].join(' to ') || (owners.length > 0 ? 'dates not stated in the files' : '');
  return owners.length > 0 ? `${days}, by ${listedUpTo(MOST_OWNERS, owners)}` : days;
}

/** As given: words as words, tables by their JSON. */
const plain = (value: unknown): string => {
  if (Array.isArray(value)) return value.map(plain).join(', ');
  return typeof value === 'string' ? value : JSON.stringify(value);
};

/** Files that could not be read, and why. */
export const failuresSection = (failures: readonly { readonly file: string; readonly reason: string }[]): Node | null =>
  linesSection(
    'not-read',
    'Not read',
    failures.map(({ file, reason }) => `${file}: ${reason}`),
  );

/** Cautions, each once. */
export const cautionsSection = (cautions: readonly string[]): Node | null =>
  linesSection('cautions', 'Cautions', cautions);

/** Lines under a heading; none without lines. */
export const linesSection = (id: string, title: string, lines: readonly string[]): Node | null =>
  section(id, title, [
    list(
      `${id}-list`,
      lines.map((text, i) => item(`${id}-${i + 1}`, text)),
    ),
  ]);

import { mixture } from '../atomic/composition.ts';
import { atomicWeight, zOf } from '../atomic/elements.ts';
import {
  againstIn,
  CellError,
  compositionIn,
  idIn,
  listIn,
  oneOf,
  spreadIn,
  symbolsIn,
  yearIn,
} from './material-cells.ts';
import type { MaterialEntry } from './knowledge.ts';
import { checkDates } from './material-dates.ts';

/** A row of a table of materials; `line` counts from 1, the heading included. */
export interface TableRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/** What is wrong with a table, and where. */
export interface TableFault {
  readonly line: number;
  /** Id of the entry, '' where it has none. */
  readonly id: string;
  readonly column: string | null;
  /** What is wrong, and what to do. */
  readonly text: string;
}

export interface TableRules {
  /** Every column and every fact must be there, as in the materials that come with the program. */
  readonly complete?: boolean;
  /** Keys that sources may name; any text will do where left out. */
  readonly sources?: ReadonlySet<string>;
}

export const MATERIAL_CLASSES = [
  'pigment',
  'lake',
  'metal',
  'ground',
  'filler',
  'drier',
  'alteration',
  'contaminant',
] as const;
const USUALNESS = ['common', 'occasional', 'rare'] as const;
const TRUST = ['high', 'medium', 'low'] as const;
const DATES_TRUST = ['high', 'medium', 'low', 'none'] as const;
const text = (cell: string): string => cell;

/** Columns of a table of materials: how a cell is read, and what an own entry may leave out ('' stands for it, or this). */
const COLUMNS = {
  id: { read: idIn },
  name: { read: text },
  other_names: { read: listIn, otherwise: '' },
  class: { read: oneOf(MATERIAL_CLASSES) },
  hue: { read: text, otherwise: 'not stated' },
  composition: { read: compositionIn },
  spread: { read: spreadIn, otherwise: '0.1' },
  required: { read: symbolsIn },
  companions: { read: symbolsIn, otherwise: '' },
  against: { read: againstIn, otherwise: '' },
  usualness: { read: oneOf(USUALNESS), otherwise: 'occasional' },
  earliest: { read: yearIn, otherwise: '' },
  first_painting: { read: yearIn, otherwise: '' },
  latest: { read: yearIn, otherwise: '' },
  dates_trust: { read: oneOf(DATES_TRUST), otherwise: 'none' },
  dates_source: { read: listIn, otherwise: '' },
  composition_trust: { read: oneOf(TRUST), otherwise: 'low' },
  composition_source: { read: listIn },
  follow_up: { read: text, otherwise: '' },
  hazard: { read: text, otherwise: 'not stated: handle as toxic' },
  note: { read: text, otherwise: '' },
} as const;
type Column = keyof typeof COLUMNS;

export const MATERIAL_COLUMNS = Object.keys(COLUMNS) as readonly Column[];
/** Columns that the table must have and whose cells may not be empty, own entries or not. */
export const NEEDED_COLUMNS = MATERIAL_COLUMNS.filter((name) => !('otherwise' in COLUMNS[name]));
/** Columns whose cells may be empty even where all facts must be there. */
const MAY_BE_EMPTY: readonly Column[] = [
  'other_names',
  'companions',
  'against',
  'earliest',
  'first_painting',
  'latest',
  'dates_source',
  'note',
];

/**
 * The entries of a table of materials, as a specialist writes them, or all that is wrong with it: for the materials that come
 * with the program and for own ones alike. Pure: the caller parses the CSV.
 * @param heading names of the columns, in any order
 */
export function materialsIn(
  heading: readonly string[],
  rows: readonly TableRow[],
  rules: TableRules = {},
): { readonly entries: MaterialEntry[]; readonly faults: TableFault[] } {
  const faults = headingFaults(heading, rules);
  if (faults.length > 0) return { entries: [], faults };
  const read = rows.map((row) => entryIn(heading, row, rules));
  const all = read.flatMap((row) => row.faults);
  const lineOf = new Map<string, number>();
  rows.forEach(({ line, cells }) => {
    const id = cells[heading.indexOf('id')] ?? '';
    const before = lineOf.get(id);
    if (id === '' || before === undefined) lineOf.set(id, line);
    else all.push({ line, id, column: 'id', text: `line ${before} has it already; keep one of them` });
  });
  if (rows.length === 0) all.push({ line: 1, id: '', column: null, text: 'there is no entry below the heading' });
  all.sort((a, b) => a.line - b.line);
  return { entries: all.length > 0 ? [] : read.flatMap(({ entry }) => entry ?? []), faults: all };
}

/** A fault of a table of materials as one line: 'pigments.csv, line 12 (smalt-own), column composition: ...' */
export function faultText(file: string, { line, id, column, text: what }: TableFault): string {
  return `${file}, line ${line}${id === '' ? '' : ` (${id})`}${column === null ? '' : `, column ${column}`}: ${what}`;
}

function headingFaults(heading: readonly string[], { complete = false }: TableRules): TableFault[] {
  const fault = (what: string): TableFault => ({ line: 1, id: '', column: null, text: what });
  const unknown = heading.filter((name) => !(name in COLUMNS));
  const missing = (complete ? MATERIAL_COLUMNS : NEEDED_COLUMNS).filter((name) => !heading.includes(name));
  const twice = heading.filter((name, at) => heading.indexOf(name) < at);
  return [
    ...unknown.map((name) => fault(`there is no column '${name}'; the columns are ${MATERIAL_COLUMNS.join(', ')}`)),
    ...(missing.length > 0 ? [fault(`the heading lacks ${missing.join(', ')}; add a column for each`)] : []),
    ...twice.map((name) => fault(`the column ${name} is there twice; keep one`)),
  ];
}

interface ReadRow {
  readonly entry: MaterialEntry | null;
  readonly faults: TableFault[];
}

function entryIn(heading: readonly string[], { line, cells }: TableRow, rules: TableRules): ReadRow {
  const at = (column: Column): string => cells[heading.indexOf(column)] ?? '';
  const faults: TableFault[] = [];
  const fault = (column: Column | null, what: string): void =>
    void faults.push({ line, id: at('id'), column, text: what });
  if (cells.length !== heading.length) {
    fault(null, `${cells.length} cells under ${heading.length} columns; put text that holds a comma in quotes`);
    return { entry: null, faults };
  }
  const cell = <Name extends Column>(column: Name) => {
    const { read, otherwise } = { otherwise: undefined, ...COLUMNS[column] };
    const mayBeEmpty = rules.complete === true ? MAY_BE_EMPTY.includes(column) : otherwise !== undefined;
    try {
      if (at(column) === '' && !mayBeEmpty) throw new CellError('it is empty; this fact is needed');
      return read(at(column) || (otherwise ?? '')) as ReturnType<(typeof COLUMNS)[Name]['read']>;
    } catch (error) {
      if (!(error instanceof CellError)) throw error;
      fault(column, error.message);
      return undefined;
    }
  };
  const read = {
    id: cell('id'),
    name: cell('name'),
    otherNames: cell('other_names'),
    class: cell('class'),
    hue: cell('hue'),
    composition: cell('composition'),
    spread: cell('spread'),
    required: cell('required'),
    companions: cell('companions'),
    against: cell('against'),
    usualness: cell('usualness'),
    earliest: cell('earliest'),
    firstPainting: cell('first_painting'),
    latest: cell('latest'),
    datesTrust: cell('dates_trust'),
    datesSource: cell('dates_source'),
    compositionTrust: cell('composition_trust'),
    compositionSource: cell('composition_source'),
    followUp: cell('follow_up'),
    hazard: cell('hazard'),
    note: cell('note'),
  };
  if (faults.length > 0) return { entry: null, faults };
  const entry = read as MaterialEntry;
  checkSense(entry, rules, fault);
  return { entry, faults };
}

/** What single cells do not show. */
function checkSense(entry: MaterialEntry, { sources }: TableRules, fault: (column: Column, what: string) => void) {
  const { composition, required, companions } = entry;
  const fractions = mixture(composition);
  const moles = (symbol: string): number => fractions[zOf(symbol)!] / atomicWeight(zOf(symbol)!);
  for (const symbol of required)
    if (!(fractions[zOf(symbol)!] > 0))
      fault('required', `${symbol} is not in the composition; add it there or drop it here`);
  const both = companions.find((symbol) => required.includes(symbol));
  if (both !== undefined) fault('companions', `${both} is required already; keep it in one of the two`);
  for (const { element, per, above } of entry.against) {
    if (!required.includes(per))
      fault('against', `${element}/${per}: ${per} is not required; the second element must be`);
    else if (!(moles(element) / moles(per) < above))
      fault('against', `its own composition has ${element}/${per} above ${above}; raise the limit or drop it`);
  }
  checkDates(entry, fault);
  const named = [
    ['dates_source', entry.datesSource],
    ['composition_source', entry.compositionSource],
  ] as const;
  for (const [column, keys] of named)
    for (const key of keys)
      if (sources?.has(key) === false)
        fault(column, `'${key}' is not a key in sources.csv; add it there or correct it`);
}

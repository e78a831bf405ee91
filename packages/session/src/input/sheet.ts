import { OBSERVATION_NAMES, type Observations, observationsIn } from '@limner/core';
import { parse } from 'csv-parse/sync';
import { lstat, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { causeOf, InputError, messageOf } from './load.ts';
import { delimiterOf, sheetText } from './sheet-text.ts';
import { referenceMaterial } from './reference-material.ts';
import { type Stated, STATED_COLUMNS, statedIn } from './stated.ts';
import { pathWithin } from './within.ts';

/** Name of the sample sheet in the folder of the spectra. */
export const SHEET = 'samples.csv';
const COLUMNS = ['file', 'sample', 'layer', 'particle', 'magnification', 'known', 'note', ...STATED_COLUMNS] as const;
const NEEDED = ['file', 'sample', 'layer'] as const;
/** What else was seen of the grain stands in columns of these names. */
const SEEN = OBSERVATION_NAMES;
const KNOWN = `${COLUMNS.join(',')}, and for what else was seen ${SEEN.join(',')}`;

/** Where a spectrum was taken. */
export interface Place {
  readonly sample: string;
  /** Numbered from the ground up, from 1; null outside the layers. */
  readonly layer: number | null;
  readonly particle: string;
  readonly magnification: string;
  /** Stated composition of a reference material: a formula, or formulas with percentages by mass; '' for other spectra. */
  readonly known: string;
  readonly note: string;
  /** What else was seen of the grain; null where nobody looked. */
  readonly seen: Observations | null;
  /** What the row states of the measurement; null where it states nothing. */
  readonly stated: Stated | null;
}

/** A faulty sample sheet; the message has one line per fault, with its row. */
export class SheetError extends Error {
  override readonly name = 'SheetError';
}

interface Row extends Place {
  readonly line: number;
  readonly file: string;
}

/** Where spectra were taken: the row that names the file, or else the first row whose pattern matches. */
export class Sheet {
  readonly text: string;
  readonly #byName = new Map<string, Row>();
  readonly #patterns: { readonly row: Row; readonly fits: RegExp }[] = [];
  readonly #unread: readonly string[];

  /** @param text of the sheet: values with a heading (RFC 4180), separated by commas, semicolons or tabs @throws SheetError */
  constructor(text: string, where = SHEET) {
    this.text = text;
    const faults: string[] = [];
    const fault = (line: number, what: string): void => void faults.push(`${where}, line ${line}: ${what}`);
    const { rows, unread } = rowsOf(text, where, fault);
    this.#unread = unread;
    for (const row of rows) {
      if (/[*?]/.test(row.file)) this.#patterns.push({ row, fits: patternOf(row.file) });
      else if (this.#byName.has(row.file))
        fault(row.line, `'${row.file}' is already in line ${this.#byName.get(row.file)!.line}; keep one of them`);
      else this.#byName.set(row.file, row);
    }
    if (faults.length > 0) throw new SheetError(faults.join('\n'));
  }

  placeOf(file: string): Place | null {
    return this.#byName.get(file) ?? this.#patterns.find(({ fits }) => fits.test(file))?.row ?? null;
  }

  /** Columns that are not read, and rows that match none of these files, one line each. */
  unused(files: readonly string[]): string[] {
    const there = new Set(files);
    const rows = [
      ...[...this.#byName.values()].filter(({ file }) => !there.has(file)),
      ...this.#patterns.filter(({ fits }) => !files.some((file) => fits.test(file))).map(({ row }) => row),
    ].sort((a, b) => a.line - b.line);
    return [
      ...this.#unread.map(
        (name) => `${SHEET}, line 1: the column '${name}' is unknown and not read; the columns are ${KNOWN}`,
      ),
      ...rows.map(({ line, file }) => `${SHEET}, line ${line}: no spectrum matches '${file}'`),
    ];
  }
}

/** The sheet in a folder; null where there is none. @throws SheetError */
export async function sheetIn(folder: string): Promise<Sheet | null> {
  const isThere = await lstat(join(folder, SHEET)).then(
    () => true,
    () => false,
  );
  return isThere ? new Sheet(await textIn(folder)) : null;
}

async function textIn(folder: string): Promise<string> {
  try {
    return sheetText(await readFile(await pathWithin(folder, SHEET)));
  } catch (error) {
    throw new SheetError(`${SHEET}: ${error instanceof InputError ? error.reason : causeOf(error)}`, { cause: error });
  }
}

interface SheetRows {
  readonly rows: readonly Row[];
  /** Names of columns that nothing is known of. */
  readonly unread: readonly string[];
}

function rowsOf(text: string, where: string, fault: (line: number, what: string) => void): SheetRows {
  let records: { record: string[]; info: { lines: number } }[];
  try {
    const options = {
      bom: true,
      delimiter: delimiterOf(text),
      info: true,
      trim: true,
      relax_column_count: true,
      skip_empty_lines: true,
    };
    records = parse(text, options) as unknown as typeof records;
  } catch (error) {
    throw new SheetError(`${where}: ${messageOf(error)}; save it as comma-separated values`);
  }
  const heading = (records.shift()?.record ?? []).map((name) => name.toLowerCase());
  const missing = NEEDED.filter((name) => !heading.includes(name));
  if (missing.length > 0) {
    fault(
      1,
      `the heading lacks ${missing.join(', ')}; the columns are ${KNOWN} (separated by commas, semicolons or tabs, in any order)`,
    );
    return { rows: [], unread: [] };
  }
  const known: readonly string[] = [...COLUMNS, ...SEEN];
  const unread = heading.filter((name) => name !== '' && !known.includes(name));
  const rows = records.flatMap(({ record, info }) => {
    if (record.length > heading.length) {
      fault(
        info.lines,
        `${record.length} cells under ${heading.length} columns; put text that holds a separator in quotes`,
      );
      return [];
    }
    return rowOf((name) => record[heading.indexOf(name)] ?? '', info.lines, fault);
  });
  return { rows, unread };
}

function rowOf(
  cell: (name: string) => string,
  line: number,
  fault: (line: number, what: string) => void,
): Row | readonly [] {
  const [file, sample, layer] = [cell('file').replaceAll('\\', '/'), cell('sample'), cell('layer')];
  if (file === '') fault(line, 'the file is missing; give a file name or a pattern such as P1-*.msa');
  else if (sample === '') fault(line, `'${file}' has no sample`);
  else if (layer !== '' && !/^[1-9]\d{0,3}$/.test(layer))
    fault(
      line,
      `layer '${layer}': layers are numbered from the ground up: 1, 2, 3 ...; leave it empty for a spectrum outside the layers`,
    );
  else {
    const rest = {
      particle: cell('particle'),
      magnification: cell('magnification'),
      known: cell('known'),
      note: cell('note'),
    };
    if (rest.known !== '') {
      try {
        referenceMaterial(rest.known);
      } catch (error) {
        fault(line, `known '${rest.known}': ${messageOf(error)}`);
        return [];
      }
    }
    try {
      const seen = observationsIn(SEEN.map((name) => [name, cell(name)]));
      const stated = statedIn(cell);
      return { line, file, sample, layer: layer === '' ? null : Number(layer), ...rest, seen, stated };
    } catch (error) {
      fault(line, messageOf(error));
    }
  }
  return [];
}

/** '*' stands for anything within a name, '?' for one character. */
function patternOf(text: string): RegExp {
  const escaped = text.replace(/[.+^${}()|[\]\\]/g, '\\$&');
  return new RegExp(`^${escaped.replaceAll('*', '[^/]*').replaceAll('?', '[^/]')}$`);
}

import { faultText, materialsIn, NEEDED_COLUMNS, type OwnMaterials, type TableRow } from '@limner/core';
// The build that runs in a browser too: the page reads such tables itself.
import { parse } from 'csv-parse/browser/esm/sync';

/** Faulty entries of the user's own; the message has one line per fault, with its row and column. */
export class PigmentsError extends Error {
  override readonly name = 'PigmentsError';
}

/** Faults listed at most. */
const MOST_FAULTS = 20;

/**
 * The user's own entries from a table of comma-separated values with the columns of data/pigments/materials.csv (RFC 4180, UTF-8;
 * semicolons between cells, as some spreadsheets write them, are read too). Lines that begin with # are skipped.
 * @param where names the file in errors
 * @throws PigmentsError
 */
export function pigmentsIn(bytes: Uint8Array, where: string): OwnMaterials['entries'] {
  const [heading, ...rows] = rowsOf(textOf(bytes, where), where);
  if (heading === undefined)
    throw new PigmentsError(
      `${where}: it is empty; give it a heading with ${NEEDED_COLUMNS.join(', ')} and a row per entry`,
    );
  const names = heading.cells.map((name) => name.toLowerCase());
  const { entries, faults } = materialsIn(names, rows);
  if (faults.length === 0) return entries;
  const lines = faults.slice(0, MOST_FAULTS).map((fault) => faultText(where, fault));
  if (faults.length > MOST_FAULTS) lines.push(`${where}: ${faults.length - MOST_FAULTS} more faults follow`);
  throw new PigmentsError(lines.join('\n'));
}

function textOf(bytes: Uint8Array, where: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    throw new PigmentsError(`${where}: it is not UTF-8 text; save it as CSV in UTF-8`, { cause: error });
  }
}

function rowsOf(text: string, where: string): TableRow[] {
  const options = {
    bom: true,
    info: true,
    trim: true,
    relax_column_count: true,
    skip_empty_lines: true,
    comment: '#',
    comment_no_infix: true,
    // No column's name holds a semicolon, so one in the first line separates.
    delimiter: text.slice(0, text.search(/[\r\n]|$/)).includes(';') ? ';' : ',',
  };
  try {
    const records = parse(text, options) as unknown as { record: string[]; info: { lines: number } }[];
    return records.map(({ record, info }) => ({ line: info.lines, cells: record }));
  } catch (error) {
    throw new PigmentsError(
      `${where}: ${error instanceof Error ? error.message : String(error)}; save it as comma-separated values`,
      { cause: error },
    );
  }
}

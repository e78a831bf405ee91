import { faultText, materialsIn, NEEDED_COLUMNS, type OwnMaterials, type TableRow } from '@limner/core';
import { parse } from 'csv-parse/sync';
import { basename } from 'node:path';
import { messageOf, readBytes } from './load.ts';
import { sha256Of } from '../reading/read-one.ts';

/** Own entries that are wrong; the message has a line for each fault, with its row and column. */
export class PigmentsError extends Error {
  override readonly name = 'PigmentsError';
}

/** Faults told at most. */
const MOST_FAULTS = 20;

/**
 * Own entries from a table of comma-separated values with the columns of data/pigments/materials.csv (RFC 4180, UTF-8; semicolons
 * between cells, as some spreadsheets write, will do). Lines that begin with # are skipped.
 * @param where names the file in errors
 * @throws PigmentsError
 */
export async function loadPigments(path: string, where = path): Promise<OwnMaterials> {
  const bytes = await readBytes(path, where).catch((error: unknown) => {
    throw new PigmentsError(messageOf(error), { cause: error });
  });
  const [heading, ...rows] = rowsOf(textOf(bytes, where), where);
  if (heading === undefined)
    throw new PigmentsError(
      `${where}: it is empty; give it a heading with ${NEEDED_COLUMNS.join(', ')} and a row per entry`,
    );
  const names = heading.cells.map((name) => name.toLowerCase());
  const { entries, faults } = materialsIn(names, rows);
  if (faults.length > 0) {
    const lines = faults.slice(0, MOST_FAULTS).map((fault) => faultText(where, fault));
    if (faults.length > MOST_FAULTS) lines.push(`${where}: ${faults.length - MOST_FAULTS} more faults follow`);
    throw new PigmentsError(lines.join('\n'));
  }
  return { file: basename(path), sha256: sha256Of(bytes), entries };
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
    throw new PigmentsError(`${where}: ${messageOf(error)}; save it as comma-separated values`, { cause: error });
  }
}

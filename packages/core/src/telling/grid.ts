import { wrap } from './layout.ts';
import { type Cell, type Column, isTold, type Length, type Row, type Table } from './sections/tree.ts';

/** Blanks between two columns. */
const GAP = 2;
/** A column of words is not folded to less than this. */
const LEAST_WIDTH = 8;

/** A table as lines of text: its heading, and the lines of each row. */
export interface Grid {
  readonly heading: readonly string[];
  readonly rows: readonly { readonly row: Row; readonly lines: readonly string[] }[];
}

/**
 * Lays a table out in lines of at most `width` characters. Columns without any text are left out. Where there is no room, columns of
 * words are folded, then spare ones left out, the last first; where even that is not enough, each row becomes one run of words with
 * the titles before the values.
 */
export function gridOf(table: Table, length: Length, indent: number, width: number): Grid {
  const rows = table.rows.filter((row) => isTold(row, length));
  let kept = table.columns
    .map((column, i) => ({ column, i }))
    .filter(({ column, i }) => isTold(column, length) && rows.some(({ cells }) => cells[i].text !== ''));
  for (;;) {
    const columns = kept.map(({ column }) => column);
    const titles = columns.map(({ title }) => title);
    const texts = rows.map(({ cells }) => kept.map(({ i }) => cells[i].text));
    const widths = fitted([titles, ...texts], columns, width - indent);
    if (widths !== null) {
      const laid = (cells: readonly string[]): string[] => lineUp(cells, columns, widths, indent);
      const heading = titles.every((title) => title === '') ? [] : laid(titles);
      return { heading, rows: rows.map((row, r) => ({ row, lines: laid(texts[r]) })) };
    }
    const spare = columns.findLastIndex((column) => column.spare);
    if (spare < 0) {
      const runs = texts.map((cells) => wrap(run(cells, titles), indent, 2, width));
      return { heading: [], rows: rows.map((row, r) => ({ row, lines: runs[r] })) };
    }
    kept = kept.filter((_, k) => k !== spare);
  }
}

/** 'Pb, element lead, verdict present' */
function run(cells: readonly Cell['text'][], titles: readonly string[]): string {
  return cells
    .map((text, c) => (c === 0 || titles[c] === '' || text === '' ? text : `${titles[c]} ${text}`))
    .filter(Boolean)
    .join('; ');
}

/** Widths of the columns that add up to no more than `width`; null where there are none. */
function fitted(rows: readonly (readonly string[])[], columns: readonly Column[], width: number): number[] | null {
  const longest = (of: (text: string) => number) =>
    columns.map((_, c) => Math.max(...rows.map((cells) => of(cells[c]))));
  const natural = longest((text) => text.length);
  const word = longest((text) => Math.max(...text.split(' ').map((part) => part.length)));
  const least = columns.map((_, c) => Math.min(natural[c], Math.max(word[c], LEAST_WIDTH)));
  const widths = [...natural];
  const total = (list: readonly number[]): number => list.reduce((sum, one) => sum + one, GAP * (columns.length - 1));
  if (total(least) > width) return null;
  while (total(widths) > width) {
    const room = widths.map((one, c) => one - least[c]);
    const widest = room.reduce(
      (best, _, c) => (room[c] > 0 && (room[best] === 0 || widths[c] > widths[best]) ? c : best),
      0,
    );
    widths[widest]--;
  }
  return widths;
}

/** The cells of a row side by side, each folded to its column. */
function lineUp(
  cells: readonly string[],
  columns: readonly Column[],
  widths: readonly number[],
  indent: number,
): string[] {
  const folded = cells.map((text, c) => wrap(text, 0, 0, widths[c]));
  const height = Math.max(...folded.map((lines) => lines.length));
  return Array.from({ length: height }, (_, k) => {
    const line = folded.map((lines, c) => {
      const text = lines[k] ?? '';
      return columns[c].align === 'right' ? text.padStart(widths[c]) : text.padEnd(widths[c]);
    });
    return (' '.repeat(indent) + line.join(' '.repeat(GAP))).trimEnd();
  });
}

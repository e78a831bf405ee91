/** Columns of a reading on a terminal or on paper. */
export const TEXT_WIDTH = 100;

/** Text from files without control characters, so that none can steer a terminal. */
export function printable(text: string): string {
  // eslint-disable-next-line no-control-regex
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]+/g, ' ').trim();
}

const plainBlanks = (line: string): string => line.replaceAll('\u00a0', ' ');

/**
 * Lines of at most `width` characters, each indented; further lines by `hanging` more. A longer word keeps its own line.
 * No-break spaces hold their words together and come out as blanks.
 */
export function wrap(text: string, indent = 0, hanging = 0, width = TEXT_WIDTH): string[] {
  const lines: string[] = [];
  let line = ' '.repeat(indent);
  let empty = true;
  for (const word of text.split(' ').filter(Boolean)) {
    if (!empty && line.length + 1 + word.length > width) {
      lines.push(line);
      line = ' '.repeat(indent + hanging);
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return (empty ? lines : [...lines, line]).map(plainBlanks);
}

export type Align = 'left' | 'right';

/** Rows as lines with columns of equal width, two blanks apart. */
export function tabulate(rows: readonly (readonly string[])[], align: readonly Align[], indent = 0): string[] {
  const widths = align.map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows.map((row) => {
    const cells = row.map((cell, column) =>
      align[column] === 'right' ? cell.padStart(widths[column]) : cell.padEnd(widths[column]),
    );
    return plainBlanks(' '.repeat(indent) + cells.join('  ')).trimEnd();
  });
}

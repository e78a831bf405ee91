// Plain tables, and the reliability of probabilities in ten bins.

/** Lines of a table: the first column to the left, the others to the right. */
export function table(head, rows) {
  const cells = [head, ...rows].map((row) => row.map((cell) => String(cell)));
  const widths = head.map((_, k) => Math.max(...cells.map((row) => row[k].length)));
  const line = (row) => row.map((cell, k) => (k === 0 ? cell.padEnd(widths[k]) : cell.padStart(widths[k]))).join('  ');
  return [line(cells[0]), widths.map((w) => '-'.repeat(w)).join('  '), ...cells.slice(1).map(line)].join('\n');
}

export const sumOf = (rows, of) => rows.reduce((sum, row) => sum + of(row), 0);

/** `part` of `whole` in percent, '-' where there is nothing. */
export const share = (part, whole, digits = 1) => (whole > 0 ? ((100 * part) / whole).toFixed(digits) : '-');

export const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

/** Elements left out of reliability: carbon, oxygen and silicon are in nearly every setting, hydrogen has no line. */
export const EVERYWHERE = ['H', 'C', 'O', 'Si'];

/** Told against true; `told` holds pairs of a probability and whether the element is there. */
export function reliability(told) {
  const bins = Array.from({ length: 10 }, (_, k) => [k / 10, (k + 1) / 10]);
  const rows = bins.map(([from, to]) => {
    const label = `${from.toFixed(1)} to ${to.toFixed(1)}`;
    return reliabilityRow(
      label,
      told.filter(([p]) => p >= from && (p < to || (to === 1 && p === 1))),
    );
  });
  const middle = told.filter(([p]) => p >= 0.1 && p < 0.9);
  const sure = told.filter(([p]) => p >= 0.99);
  return table(
    ['told', 'claims', 'mean told', 'true', 'gap'],
    [...rows, reliabilityRow('0.1 to 0.9', middle), reliabilityRow('0.99 to 1', sure)],
  );
}

function reliabilityRow(label, inside) {
  if (inside.length === 0) return [label, 0, '-', '-', '-'];
  const mean = sumOf(inside, ([p]) => p) / inside.length;
  const is = inside.filter(([, there]) => there).length / inside.length;
  return [label, inside.length, mean.toFixed(3), is.toFixed(3), (mean - is).toFixed(3)];
}

import { describe, expect, it } from 'vitest';
import { addScaled, columnOf, spreadOut, type Column } from '../model/column.ts';
import { addColumns, bundleOf, productsWith } from './bundle.ts';
import { normalEquations } from './normal.ts';

const N = 60;
const bell = (at: number, width: number): Column =>
  columnOf(Float64Array.from({ length: N }, (_, i) => Math.max(0, 1 - ((i - at) / width) ** 2)));

const wide = bell(30, 28);
const beside = bell(20, 15);
const narrow: Column = { ...bell(25, 4), less: { of: wide, share: 0.3 } };
const other: Column = { ...bell(40, 3), less: { of: wide, share: -0.2 } };
const alone: Column = { ...bell(12, 3), less: { of: beside, share: 0.5 } };
// `beside` is not among them.
const columns = [wide, narrow, other, alone];
const written = columns.map((column) => columnOf(spreadOut(column, N)));

describe('columns that take a share off another', () => {
  const y = Float64Array.from({ length: N }, (_, i) => 5 + (i % 7));
  const w = Float64Array.from({ length: N }, (_, i) => 1 / (2 + (i % 5)));
  const close = (a: ArrayLike<number>, b: ArrayLike<number>): void => {
    expect(a.length).toBe(b.length);
    for (let i = 0; i < a.length; i++) expect(a[i]).toBeCloseTo(b[i], 10);
  };

  it('have the normal equations of the same columns written out', () => {
    const [short, long] = [normalEquations(columns, y, w, 5, 55), normalEquations(written, y, w, 5, 55)];
    expect(short.size).toBe(columns.length);
    close(short.matrix, long.matrix);
    close(short.rhs, long.rhs);
  });

  it('add up and multiply as if written out', () => {
    const coefficients = Float64Array.of(2, -1, 0.5, 3);
    const [short, long] = [new Float64Array(N), new Float64Array(N)];
    addColumns(short, bundleOf(columns), coefficients);
    written.forEach((column, j) => addScaled(long, column, coefficients[j]));
    close(short, long);
    close(productsWith(bundleOf(columns), y, 5, 55), productsWith(bundleOf(written), y, 5, 55));
  });
});

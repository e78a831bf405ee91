import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { columnOf } from '../model/column.ts';
import { randomStream } from '../simulate/random.ts';
import { cholesky, inverseFromCholesky, type NotPositiveDefiniteError } from './cholesky.ts';
import { SOURCE } from './kernel-code.ts';
import { kernel } from './kernel.ts';
import { normalEquations } from './normal.ts';
import { withRows } from './rows.ts';

const random = randomStream(3, 0);
const noise = (length: number): Float64Array => Float64Array.from({ length }, () => random.uniform() - 0.2);

/** Peaks here and there and some columns over the whole axis, as a model has them. */
function someColumns(count: number, channels: number): ReturnType<typeof columnOf>[] {
  return Array.from({ length: count }, (_, j) => {
    const values = noise(channels);
    const from = Math.floor(random.uniform() * channels);
    if (j % 5 > 0) values.fill(0, 0, from).fill(0, from + 3 + 9 * (j % 7));
    return columnOf(values);
  });
}

/** The same modules where the engine has no WebAssembly. */
async function plain(): Promise<{
  readonly normalEquations: typeof normalEquations;
  readonly cholesky: typeof cholesky;
  readonly inverseFromCholesky: typeof inverseFromCholesky;
  readonly withRows: typeof withRows;
}> {
  vi.resetModules();
  vi.stubGlobal('WebAssembly', undefined);
  const modules = {
    ...(await import('./normal.ts')),
    ...(await import('./cholesky.ts')),
    ...(await import('./rows.ts')),
  };
  expect((await import('./kernel.ts')).kernel()).toBeNull();
  return modules;
}

afterEach(() => {
  vi.unstubAllGlobals();
  vi.resetModules();
});

describe('the compiled loops', () => {
  it('are those of their source', () => {
    const source = readFileSync(new URL('../../kernel/kernel.as', import.meta.url));
    expect(createHash('sha256').update(source).digest('hex')).toBe(SOURCE);
    expect(kernel()).not.toBeNull();
  });

  it.each([1, 7, 40, 61])('give the normal equations of %d columns to the last bit', async (count) => {
    const columns = someColumns(count, 300);
    const [y, w] = [noise(300), noise(300).map(Math.abs)];
    const compiled = normalEquations(columns, y, w, 11, 287);
    const other = (await plain()).normalEquations(columns, y, w, 11, 287);
    expect(compiled).toEqual(other);
    // And they are the normal equations.
    const [i, j] = [count - 1, count >> 1];
    let sum = 0;
    for (let k = 11; k < 287; k++)
      sum += w[k] * (columns[i].values[k - columns[i].lo] ?? 0) * (columns[j].values[k - columns[j].lo] ?? 0);
    expect(Math.abs(compiled.matrix[j * count + i] - sum)).toBeLessThan(1e-12 * (1 + Math.abs(sum)));
  });

  it.each([16, 17, 50, 83])('give factor and inverse of a %d x %d matrix to the last bit', async (n) => {
    const a = noise(n * n);
    const square = (rows: typeof withRows): Float64Array =>
      rows(new Float64Array(n * n), n, n, transposedOf(a, n), n, a, 1);
    const matrix = square(withRows);
    const other = await plain();
    expect(matrix).toEqual(square(other.withRows));
    for (let i = 0; i < n; i++) matrix[i * n + i] += 1;
    const l = cholesky(matrix, n);
    expect(l).toEqual(other.cholesky(matrix, n));
    expect(inverseFromCholesky(l, n)).toEqual(other.inverseFromCholesky(l, n));
  });

  it('say which pivot fails, as the others do', async () => {
    const n = 20;
    const matrix = identity(n);
    matrix[13 * n + 13] = -1;
    const pivotOf = (factor: typeof cholesky): unknown => {
      try {
        return factor(matrix, n);
      } catch (error) {
        return (error as NotPositiveDefiniteError).pivot;
      }
    };
    expect(pivotOf(cholesky)).toBe(13);
    expect(pivotOf((await plain()).cholesky)).toBe(13);
  });
});

function identity(n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) out[i * n + i] = 1;
  return out;
}

function transposedOf(a: Float64Array, n: number): Float64Array {
  return a.map((_, k) => a[(k % n) * n + Math.floor(k / n)]);
}

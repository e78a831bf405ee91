import { kernel } from './kernel.ts';

/**
 * Adds rows of a matrix, each times its factor, to a row: to[j] += Σ f_k from[k, j] for j < length. Four rows at a time, so that each
 * value is fetched and stored once for four products; added in ascending order of k, as one row at a time would be.
 * @param to where the sum goes, from index `at`
 * @param from row-major, rows `stride` apart, the first at index `first`
 * @param factors of the rows: `count` of them, from index `factor`, `factorStride` apart, each times `scale`
 */
export function addRows(
  to: Float64Array,
  at: number,
  length: number,
  from: Float64Array,
  first: number,
  stride: number,
  count: number,
  factors: Float64Array,
  factor: number,
  factorStride: number,
  scale: number,
): void {
  let k = 0;
  for (; k + 3 < count; k += 4) {
    const f0 = factors[factor + k * factorStride] * scale;
    const f1 = factors[factor + (k + 1) * factorStride] * scale;
    const f2 = factors[factor + (k + 2) * factorStride] * scale;
    const f3 = factors[factor + (k + 3) * factorStride] * scale;
    if (f0 === 0 && f1 === 0 && f2 === 0 && f3 === 0) continue;
    const r0 = first + k * stride;
    const r1 = r0 + stride;
    const r2 = r1 + stride;
    const r3 = r2 + stride;
    for (let j = 0; j < length; j++)
      to[at + j] = to[at + j] + f0 * from[r0 + j] + f1 * from[r1 + j] + f2 * from[r2 + j] + f3 * from[r3 + j];
  }
  for (; k < count; k++) {
    const f = factors[factor + k * factorStride] * scale;
    if (f === 0) continue;
    const r = first + k * stride;
    for (let j = 0; j < length; j++) to[at + j] += f * from[r + j];
  }
}

/**
 * to + scale × factors × from, for matrices to (rows × length), factors (rows × count) and from (count × length), each row as
 * {@link addRows} has it. `to` is changed.
 */
export function withRows(
  to: Float64Array,
  rows: number,
  length: number,
  from: Float64Array,
  count: number,
  factors: Float64Array,
  scale: number,
): Float64Array {
  const compiled = kernel();
  if (!compiled) {
    for (let e = 0; e < rows; e++)
      addRows(to, e * length, length, from, 0, length, count, factors, e * count, 1, scale);
    return to;
  }
  const [second, third] = [to.length, to.length + from.length];
  const memory = compiled.doubles(third + factors.length);
  memory.set(to);
  memory.set(from, second);
  memory.set(factors, third);
  compiled.loops.multiply(0, rows, length, 8 * second, count, 8 * third, scale);
  to.set(memory.subarray(0, to.length));
  return to;
}

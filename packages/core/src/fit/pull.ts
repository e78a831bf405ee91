import type { Prior } from './eliminate.ts';

/** Takes the prior's pull off the gradient; its part of the objective. */
export function addPrior(
  { precision, precisionMean }: Prior,
  coefficients: Float64Array,
  gradient: Float64Array,
): number {
  const p = coefficients.length;
  const { first, columns } = entriesOf(precision, p);
  let value = 0;
  for (let j = 0; j < p; j++) {
    let pull = 0;
    for (let at = first[j]; at < first[j + 1]; at++) pull += precision[j * p + columns[at]] * coefficients[columns[at]];
    gradient[j] += precisionMean[j] - pull;
    value += coefficients[j] * (0.5 * pull - precisionMean[j]);
  }
  return value;
}

/** Columns of what is not 0 in each row of a precision: hardly more than its diagonal. Row j has those from first[j] to first[j + 1]. */
interface Entries {
  readonly first: Int32Array;
  readonly columns: Int32Array;
}

const ENTRIES = new WeakMap<Float64Array, Entries>();

function entriesOf(precision: Float64Array, p: number): Entries {
  const kept = ENTRIES.get(precision);
  if (kept) return kept;
  const first = new Int32Array(p + 1);
  const columns: number[] = [];
  for (let j = 0; j < p; j++) {
    for (let k = 0; k < p; k++) if (precision[j * p + k] !== 0) columns.push(k);
    first[j + 1] = columns.length;
  }
  const entries = { first, columns: Int32Array.from(columns) };
  ENTRIES.set(precision, entries);
  return entries;
}

import { stretch } from '../arithmetic/stretch.ts';
import { columnFrom, information, type Column } from './column.ts';

/**
 * Makes nuisance columns orthogonal, in the fit's metric, to the template of the element they bend. Otherwise tails,
 * widths and ratios together could rebuild the peak when its element is left out, and no element would ever be required.
 */
export interface Orthogonaliser {
  /** factor × (column less its projection on the template); what lies outside the template's runs is left out. */
  column(column: Column, factor: number, template: Column): Column;
  /** Weighted sum of squares of that column, without making it: 1 / variance of its coefficient on its own. */
  information(column: Column, factor: number, template: Column): number;
  /** A column less its projection on the template; what lies outside the template's runs stays. */
  freed(column: Column, template: Column): Column;
  /** Weighted sum of squares of that column. */
  informationOf(column: Column, template: Column): number;
}

/** @param weights 1 / variance per channel, used over [lo, hi) */
export const orthogonaliser = (weights: Float64Array, lo: number, hi: number): Orthogonaliser =>
  new InMetric(weights, lo, hi);

class InMetric implements Orthogonaliser {
  readonly #weights: Float64Array;
  readonly #lo: number;
  readonly #hi: number;
  readonly #squares = new Map<Column, number>();
  /** A column is first judged and then made: its sums serve twice. */
  #last: Products | null = null;

  constructor(weights: Float64Array, lo: number, hi: number) {
    this.#weights = weights;
    this.#lo = lo;
    this.#hi = hi;
  }

  column(column: Column, factor: number, template: Column): Column {
    const { vt, tt } = this.#products(column, template);
    const inside = scaledInside(column, template, factor);
    return tt > 0 ? { ...inside, less: { of: template, share: (factor * vt) / tt } } : inside;
  }

  information(column: Column, factor: number, template: Column): number {
    const { vv, vt, tt } = this.#products(column, template);
    return factor * factor * Math.max(0, tt > 0 ? vv - (vt * vt) / tt : vv);
  }

  freed(column: Column, template: Column): Column {
    const { vt, tt } = this.#products(column, template);
    return !(tt > 0) || vt === 0 ? column : { ...column, less: { of: template, share: vt / tt } };
  }

  informationOf(column: Column, template: Column): number {
    const { vt, tt } = this.#products(column, template);
    const all = information(column, this.#weights, this.#lo, this.#hi);
    return Math.max(0, all - (tt > 0 ? (vt * vt) / tt : 0));
  }

  #products(column: Column, template: Column): Products {
    if (this.#last?.column === column && this.#last.template === template) return this.#last;
    const { vv, vt } = overlapping(column, template, this.#weights, this.#lo, this.#hi);
    return (this.#last = { column, template, vv, vt, tt: this.#squareOf(template) });
  }

  #squareOf(template: Column): number {
    let tt = this.#squares.get(template);
    if (tt === undefined) this.#squares.set(template, (tt = information(template, this.#weights, this.#lo, this.#hi)));
    return tt;
  }
}

/** Weighted sums of squares and products of a column and a template over the template's runs. */
interface Products {
  readonly column: Column;
  readonly template: Column;
  readonly vv: number;
  readonly vt: number;
  readonly tt: number;
}

function overlapping(
  { values, lo: first, hi: end }: Column,
  { values: t, lo: tFirst, runs }: Column,
  weights: Float64Array,
  lo: number,
  hi: number,
): { vv: number; vt: number } {
  let [vv, vt] = [0, 0];
  const [from, to] = [Math.max(lo, first), Math.min(hi, end)];
  for (let r = 0; r < runs.length; r += 2) {
    const stop = Math.min(to, runs[r + 1]);
    for (let i = Math.max(from, runs[r]); i < stop; i++) {
      const v = values[i - first];
      vv += weights[i] * v * v;
      vt += weights[i] * v * t[i - tFirst];
    }
  }
  return { vv, vt };
}

/** factor × (a column inside the template's runs). */
function scaledInside({ values, lo: first, hi: end }: Column, { lo, hi, runs }: Column, factor: number): Column {
  const from = Math.max(first, lo);
  const out = stretch(Math.max(0, Math.min(end, hi) - from));
  for (let r = 0; r < runs.length; r += 2) {
    const stop = Math.min(end, runs[r + 1]);
    for (let i = Math.max(from, runs[r]); i < stop; i++) out[i - from] = factor * values[i - first];
  }
  return columnFrom(out, from);
}

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

/** Weighted sums of squares and products of a column and a template over the template's runs. */
interface Products {
  readonly column: Column;
  readonly template: Column;
  readonly vv: number;
  readonly vt: number;
  readonly tt: number;
}

/** @param weights 1 / variance per channel, used over [lo, hi) */
export function orthogonaliser(weights: Float64Array, lo: number, hi: number): Orthogonaliser {
  const squares = new Map<Column, number>();
  const squareOf = (template: Column): number => {
    let tt = squares.get(template);
    if (tt === undefined) squares.set(template, (tt = information(template, weights, lo, hi)));
    return tt;
  };
  // A column is first judged and then made: its sums serve twice.
  let last: Products | null = null;
  const products = (column: Column, template: Column): Products => {
    if (last?.column !== column || last.template !== template) {
      const { vv, vt } = overlapping(column, template, weights, lo, hi);
      last = { column, template, vv, vt, tt: squareOf(template) };
    }
    return last;
  };
  return {
    freed(column, template) {
      const { vt, tt } = products(column, template);
      return !(tt > 0) || vt === 0 ? column : { ...column, less: { of: template, share: vt / tt } };
    },
    informationOf(column, template) {
      const { vt, tt } = products(column, template);
      return Math.max(0, information(column, weights, lo, hi) - (tt > 0 ? (vt * vt) / tt : 0));
    },
    column(column, factor, template) {
      const { vt, tt } = products(column, template);
      const inside = scaledInside(column, template, factor);
      return tt > 0 ? { ...inside, less: { of: template, share: (factor * vt) / tt } } : inside;
    },
    information(column, factor, template) {
      const { vv, vt, tt } = products(column, template);
      return factor * factor * Math.max(0, tt > 0 ? vv - (vt * vt) / tt : vv);
    },
  };
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

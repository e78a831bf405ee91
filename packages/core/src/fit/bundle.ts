import { addOwn, ownProduct, type Column } from '../model/column.ts';
import { stretch } from '../arithmetic/stretch.ts';

/**
 * Columns of a linear model of which some take off a share of another one: what all of them need is worked out for their own narrow
 * values, and the shares are taken off the results.
 */
export interface Bundle {
  /** The columns, and after them those that a share is taken off of without being among them. */
  readonly own: readonly Column[];
  /** Place in `own` of what each column takes a share off, -1 for none, and that share. */
  readonly from: Int32Array;
  readonly share: Float64Array;
  /** Channels in the stretches of all of `own`. */
  readonly filled: number;
}

const BUNDLES = new WeakMap<readonly Column[], Bundle>();

/** The bundle of some columns; kept as long as they are. */
export function bundleOf(columns: readonly Column[]): Bundle {
  const kept = BUNDLES.get(columns);
  if (kept) return kept;
  const own = [...columns];
  const places = new Map(columns.map((column, j) => [column, j]));
  const from = new Int32Array(columns.length).fill(-1);
  const share = new Float64Array(columns.length);
  columns.forEach(({ less }, j) => {
    if (!less) return;
    let place = places.get(less.of);
    if (place === undefined) {
      place = own.push(less.of) - 1;
      places.set(less.of, place);
    }
    from[j] = place;
    share[j] = less.share;
  });
  const bundle = { own, from, share, filled: own.reduce((sum, column) => sum + filledOf(column), 0) };
  BUNDLES.set(columns, bundle);
  return bundle;
}

function filledOf({ runs }: Column): number {
  let filled = 0;
  for (let r = 0; r < runs.length; r += 2) filled += runs[r + 1] - runs[r];
  return filled;
}

/** out += the sum of the columns, each times its coefficient. */
export function addColumns(out: Float64Array, { own, from, share }: Bundle, coefficients: Float64Array): void {
  const factors = stretch(own.length);
  factors.set(coefficients);
  for (let j = 0; j < from.length; j++) if (from[j] >= 0) factors[from[j]] -= share[j] * coefficients[j];
  for (let k = 0; k < own.length; k++) addOwn(out, own[k], factors[k]);
}

/** Sum of each column times values per channel over [lo, hi). */
export function productsWith(bundle: Bundle, perChannel: Float64Array, lo: number, hi: number): Float64Array {
  const all = stretch(bundle.own.length);
  for (let k = 0; k < all.length; k++) all[k] = ownProduct(bundle.own[k], perChannel, lo, hi);
  return lessShares(bundle, all);
}

/** Sums over the columns from those over their own values. @param all one for each of `own` */
export function lessShares({ from, share }: Bundle, all: Float64Array): Float64Array {
  const out = stretch(from.length);
  for (let j = 0; j < out.length; j++) out[j] = from[j] < 0 ? all[j] : all[j] - share[j] * all[from[j]];
  return out;
}

/**
 * The products of all columns with each other from those of their own values.
 * @param all symmetric, one row for each of `own`; changed   @param out where the products go
 */
export function withShares({ own, from, share }: Bundle, all: Float64Array, out: Float64Array): void {
  const [p, size] = [from.length, own.length];
  for (let j = 0; j < p; j++) {
    if (from[j] < 0) continue;
    const [row, other] = [j * size, from[j] * size];
    for (let k = 0; k < size; k++) all[row + k] -= share[j] * all[other + k];
  }
  for (let i = 0; i < p; i++) {
    const row = i * size;
    // Shares are taken off columns that have none taken off themselves, and of the lower triangle alone.
    for (let j = 0; j <= i; j++) out[i * p + j] = all[row + j] - (from[j] < 0 ? 0 : share[j] * all[row + from[j]]);
  }
  for (let i = 0; i < p; i++) for (let j = 0; j < i; j++) out[j * p + i] = out[i * p + j];
}

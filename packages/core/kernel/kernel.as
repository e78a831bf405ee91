// The three loops that most of an identification is spent in, for two numbers at a time. AssemblyScript; `node packages/core/kernel/build.mjs`
// compiles it into src/fit/kernel/code.ts. Each sum is added up in the order of the TypeScript beside it, so that both give the same bytes.
// All places are addresses in bytes; matrices are row-major, of 64-bit floats.

/**
 * Adds the products of a tile's columns to the lower triangle of a p x p matrix, four by four.
 * plain and weighted: blocks of four columns, in each [channel of the tile][column of the block]; filled up with zeros to whole blocks.
 */
export function products(matrix: usize, p: i32, active: usize, count: i32, plain: usize, weighted: usize, tile: i32): void {
  for (let a = 0; a < count; a += 4) {
    for (let b = 0; b <= a; b += 4) {
      let s00 = f64x2.splat(0);
      let s01 = s00;
      let s10 = s00;
      let s11 = s00;
      let s20 = s00;
      let s21 = s00;
      let s30 = s00;
      let s31 = s00;
      let c = plain + ((b * tile) << 3);
      let u = weighted + ((a * tile) << 3);
      const end = c + (tile << 5);
      while (c < end) {
        const c0 = v128.load(c);
        const c1 = v128.load(c, 16);
        const u0 = v128.load64_splat(u);
        const u1 = v128.load64_splat(u, 8);
        const u2 = v128.load64_splat(u, 16);
        const u3 = v128.load64_splat(u, 24);
        s00 = f64x2.add(s00, f64x2.mul(u0, c0));
        s01 = f64x2.add(s01, f64x2.mul(u0, c1));
        s10 = f64x2.add(s10, f64x2.mul(u1, c0));
        s11 = f64x2.add(s11, f64x2.mul(u1, c1));
        s20 = f64x2.add(s20, f64x2.mul(u2, c0));
        s21 = f64x2.add(s21, f64x2.mul(u2, c1));
        s30 = f64x2.add(s30, f64x2.mul(u3, c0));
        s31 = f64x2.add(s31, f64x2.mul(u3, c1));
        c += 32;
        u += 32;
      }
      addRow(matrix, p, active, count, a, b, s00, s01);
      addRow(matrix, p, active, count, a + 1, b, s10, s11);
      addRow(matrix, p, active, count, a + 2, b, s20, s21);
      addRow(matrix, p, active, count, a + 3, b, s30, s31);
    }
  }
}

// @ts-ignore: decorator
@inline
function addRow(matrix: usize, p: i32, active: usize, count: i32, a: i32, b: i32, low: v128, high: v128): void {
  if (a >= count) return;
  const row = matrix + ((load<i32>(active + (a << 2)) * p) << 3);
  addOne(row, active, count, b, f64x2.extract_lane(low, 0));
  addOne(row, active, count, b + 1, f64x2.extract_lane(low, 1));
  addOne(row, active, count, b + 2, f64x2.extract_lane(high, 0));
  addOne(row, active, count, b + 3, f64x2.extract_lane(high, 1));
}

// @ts-ignore: decorator
@inline
function addOne(row: usize, active: usize, count: i32, b: i32, sum: f64): void {
  if (b >= count) return;
  const at = row + (load<i32>(active + (b << 2)) << 3);
  store<f64>(at, load<f64>(at) + sum);
}

/** to[j] += sum over k of scale * factors[k] * from[k, j] for j < length, four rows at a time; as addRows of rows.ts. */
export function addRows(
  to: usize,
  length: i32,
  from: usize,
  stride: i32,
  count: i32,
  factors: usize,
  factorStride: i32,
  scale: f64,
): void {
  const row = stride << 3;
  const step = factorStride << 3;
  let k = 0;
  for (; k + 3 < count; k += 4) {
    const f0 = load<f64>(factors) * scale;
    const f1 = load<f64>(factors + step) * scale;
    const f2 = load<f64>(factors + 2 * step) * scale;
    const f3 = load<f64>(factors + 3 * step) * scale;
    factors += 4 * step;
    if (f0 != 0 || f1 != 0 || f2 != 0 || f3 != 0) addFour(to, length, from, row, f0, f1, f2, f3);
    from += 4 * row;
  }
  for (; k < count; k++) {
    const f = load<f64>(factors) * scale;
    factors += step;
    if (f != 0) {
      for (let j = 0; j < length << 3; j += 8) store<f64>(to + j, load<f64>(to + j) + f * load<f64>(from + j));
    }
    from += row;
  }
}

// @ts-ignore: decorator
@inline
function addFour(to: usize, length: i32, from: usize, row: i32, f0: f64, f1: f64, f2: f64, f3: f64): void {
  const r1 = from + row;
  const r2 = r1 + row;
  const r3 = r2 + row;
  const v0 = f64x2.splat(f0);
  const v1 = f64x2.splat(f1);
  const v2 = f64x2.splat(f2);
  const v3 = f64x2.splat(f3);
  const pairs = (length & ~1) << 3;
  let j = 0;
  for (; j < pairs; j += 16) {
    let sum = f64x2.add(v128.load(to + j), f64x2.mul(v0, v128.load(from + j)));
    sum = f64x2.add(sum, f64x2.mul(v1, v128.load(r1 + j)));
    sum = f64x2.add(sum, f64x2.mul(v2, v128.load(r2 + j)));
    sum = f64x2.add(sum, f64x2.mul(v3, v128.load(r3 + j)));
    v128.store(to + j, sum);
  }
  if (j < length << 3) {
    let sum = load<f64>(to + j) + f0 * load<f64>(from + j);
    sum = sum + f1 * load<f64>(r1 + j);
    sum = sum + f2 * load<f64>(r2 + j);
    store<f64>(to + j, sum + f3 * load<f64>(r3 + j));
  }
}

/** Rows of a x b: to (rows x length) += factors (rows x count) times from (count x length). */
export function multiply(
  to: usize,
  rows: i32,
  length: i32,
  from: usize,
  count: i32,
  factors: usize,
  scale: f64,
): void {
  for (let e = 0; e < rows; e++) {
    addRows(to, length, from, length, count, factors, 1, scale);
    to += length << 3;
    factors += count << 3;
  }
}

/**
 * Turns a symmetric matrix into its Cholesky factor, the lower one mirrored into the upper triangle (rows of its transpose), in place:
 * what lies below the diagonal is left as it was. The number of the pivot that is not above 0; -1 where all are.
 */
export function factor(a: usize, n: i32): i32 {
  const row = n << 3;
  for (let from = 0; from < n; from += 4) {
    const end = min(n, from + 4);
    for (let k = from; k < end; k++) {
      const own = a + k * row;
      for (let t = from; t < k; t++) {
        const above = a + t * row;
        const f = load<f64>(above + (k << 3));
        for (let j = k << 3; j < row; j += 8) store<f64>(own + j, load<f64>(own + j) - f * load<f64>(above + j));
      }
      const pivot = load<f64>(own + (k << 3));
      if (!(pivot > 0)) return k;
      const root = sqrt(pivot);
      store<f64>(own + (k << 3), root);
      for (let j = (k + 1) << 3; j < row; j += 8) store<f64>(own + j, load<f64>(own + j) / root);
    }
    if (end < from + 4) break;
    const top = a + from * row;
    for (let i = end; i < n; i++) {
      const at = top + (i << 3);
      addFour(
        a + i * row + (i << 3),
        n - i,
        at,
        row,
        -load<f64>(at),
        -load<f64>(at + row),
        -load<f64>(at + 2 * row),
        -load<f64>(at + 3 * row),
      );
    }
  }
  return -1;
}

/** Rows of a triangle that are added together; as in cholesky.ts. */
const BLOCK = 16;

/** The lower triangle of the inverse from the factor l (lower triangle); t and out are n x n, zero before. */
export function invert(l: usize, t: usize, out: usize, n: i32): void {
  const row = n << 3;
  for (let i = 0; i < n; i++) {
    const own = i * row;
    const scale = 1.0 / load<f64>(l + own + (i << 3));
    for (let k = 0; k < i; k += BLOCK) {
      const end = min(i, k + BLOCK);
      addRows(t + own, end, t + k * row, n, end - k, l + own + (k << 3), 1, -scale);
    }
    store<f64>(t + own + (i << 3), scale);
  }
  for (let i = 0; i < n; i++) {
    const own = i * row;
    addRows(out + own, i + 1, t + own, n, n - i, t + own + (i << 3), n, 1);
  }
}

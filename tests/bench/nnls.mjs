// Plain non-negative least squares, the yardstick: min |A x - y| over x >= 0.
// Source: C.L. Lawson, R.J. Hanson, Solving Least Squares Problems, 1974, chapter 23 (algorithm NNLS), here on the normal
// equations, which are formed from the dense matrix as part of the work.

const TOLERANCE = 1e-9;

/**
 * @param {Float64Array[]} columns p columns of n values (weights already in them)
 * @param {Float64Array} y n values
 * @returns {{ x: Float64Array, gradient: Float64Array, iterations: number }} gradient = A'(y - A x), per unit column norm
 */
export function nnls(columns, y) {
  const p = columns.length;
  const { gram, rhs } = normalEquations(columns, y);
  const x = new Float64Array(p);
  const passive = [];
  const scale = Math.max(...rhs.map(Math.abs));
  let iterations = 0;
  for (; iterations < 30 * p; iterations++) {
    const slopes = gradientAt(gram, rhs, x);
    let enter = -1;
    for (let j = 0; j < p; j++) {
      if (!passive.includes(j) && slopes[j] > TOLERANCE * scale && (enter < 0 || slopes[j] > slopes[enter])) enter = j;
    }
    if (enter < 0) break;
    passive.push(enter);
    descend(gram, rhs, x, passive);
  }
  return { x, gradient: gradientAt(gram, rhs, x), iterations };
}

/** Moves x to the least-squares solution of the passive set; columns that would turn negative leave it. */
function descend(gram, rhs, x, passive) {
  for (;;) {
    const wanted = solve(gram, rhs, passive);
    let step = 1;
    passive.forEach((j, i) => {
      if (wanted[i] <= 0) step = Math.min(step, x[j] / (x[j] - wanted[i]));
    });
    passive.forEach((j, i) => (x[j] += step * (wanted[i] - x[j])));
    if (step === 1) return;
    for (let i = passive.length - 1; i >= 0; i--) {
      if (x[passive[i]] <= 1e-14) {
        x[passive[i]] = 0;
        passive.splice(i, 1);
      }
    }
  }
}

function normalEquations(columns, y) {
  const p = columns.length;
  const gram = Array.from({ length: p }, () => new Float64Array(p));
  const rhs = new Float64Array(p);
  for (let i = 0; i < p; i++) {
    rhs[i] = dot(columns[i], y);
    for (let j = 0; j <= i; j++) gram[i][j] = gram[j][i] = dot(columns[i], columns[j]);
  }
  return { gram, rhs };
}

function dot(a, b) {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

function gradientAt(gram, rhs, x) {
  return rhs.map((value, i) => value - dot(gram[i], x));
}

/** Cholesky solution of the passive block. */
function solve(gram, rhs, set) {
  const k = set.length;
  const l = Array.from({ length: k }, () => new Float64Array(k));
  const z = new Float64Array(k);
  for (let i = 0; i < k; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = gram[set[i]][set[j]] * (i === j ? 1 + 1e-12 : 1);
      for (let m = 0; m < j; m++) sum -= l[i][m] * l[j][m];
      l[i][j] = i === j ? Math.sqrt(Math.max(sum, Number.MIN_VALUE)) : sum / l[j][j];
    }
    let sum = rhs[set[i]];
    for (let m = 0; m < i; m++) sum -= l[i][m] * z[m];
    z[i] = sum / l[i][i];
  }
  for (let i = k - 1; i >= 0; i--) {
    for (let m = i + 1; m < k; m++) z[i] -= l[m][i] * z[m];
    z[i] /= l[i][i];
  }
  return z;
}

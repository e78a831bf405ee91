import { exp } from '../arithmetic/exponential.ts';

/** Nodes of the table lie 1/64 apart from 0 to 6, so that no argument is further than 1/128 from one. */
const NODES_PER_UNIT = 64;
const LAST = 6;
/** Coefficients per node: the value and five derivatives. */
const TERMS = 6;
const TABLE = taylorTable();

/**
 * Complementary error function: absolute error below 1e-13, relative below 1e-8 where erfc is small; a few ns.
 * Taylor series around the nearest node of a table; from 6 on (erfc < 2e-17) the continued fraction.
 * Source: NIST Digital Library of Mathematical Functions, 7.6.2 and 7.9.1 (values at the nodes), 7.10.1 (derivatives).
 */
export function erfc(x: number): number {
  const distance = x < 0 ? -x : x;
  if (!(distance < LAST)) return x < 0 ? 2 : beyond(x);
  const node = (distance * NODES_PER_UNIT + 0.5) | 0;
  const d = distance - node / NODES_PER_UNIT;
  const d2 = d * d;
  const k = node * TERMS;
  // In pairs: half the wait of Horner's rule.
  const high = TABLE[k + 2] + d * TABLE[k + 3] + d2 * (TABLE[k + 4] + d * TABLE[k + 5]);
  const value = TABLE[k] + d * TABLE[k + 1] + d2 * high;
  return x < 0 ? 2 - value : value;
}

function beyond(x: number): number {
  return x > 27 ? 0 : continuedFraction(x);
}

/** Row of a node a: erfc(a), then erfc^(n)(a) / n! = (-1)^n 2/sqrt(pi) H(n-1)(a) exp(-a2) / n!, H the Hermite polynomials. */
function taylorTable(): Float64Array {
  const table = new Float64Array((LAST * NODES_PER_UNIT + 1) * TERMS);
  for (let node = 0; node <= LAST * NODES_PER_UNIT; node++) {
    const a = node / NODES_PER_UNIT;
    table[node * TERMS] = a < 2 ? 1 - series(a) : continuedFraction(a);
    const slope = (2 / Math.sqrt(Math.PI)) * exp(-a * a);
    let [before, hermite, factorial] = [0, 1, 1];
    for (let n = 1; n < TERMS; n++) {
      factorial *= -n;
      table[node * TERMS + n] = (slope * hermite) / factorial;
      [before, hermite] = [hermite, 2 * a * hermite - 2 * (n - 1) * before];
    }
  }
  return table;
}

/** erf(x) = 2/sqrt(pi) exp(-x2) sum of 2^n x^(2n+1) / (2n+1)!!, all terms positive. */
function series(x: number): number {
  let [term, sum] = [x, x];
  for (let n = 1; term > 1e-17 * sum; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * exp(-x * x) * sum;
}

/** erfc(x) = exp(-x2)/sqrt(pi) / (x + (1/2)/(x + 1/(x + (3/2)/(x + ...)))), from the inside out. */
function continuedFraction(x: number): number {
  const depth = Math.ceil(20 + 200 / (x * x));
  let value = x;
  for (let k = depth; k > 0; k--) value = x + k / 2 / value;
  return exp(-x * x) / (Math.sqrt(Math.PI) * value);
}

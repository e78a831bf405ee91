/**
 * Complementary error function, relative accuracy about 1e-14: power series up to 2, continued fraction beyond.
 * Source: NIST Digital Library of Mathematical Functions, 7.6.2 and 7.9.1.
 */
export function erfc(x: number): number {
  if (x < 0) return 2 - erfc(-x);
  if (x > 27) return 0;
  return x < 2 ? 1 - series(x) : continuedFraction(x);
}

/** erf(x) = 2/sqrt(pi) exp(-x2) sum of 2^n x^(2n+1) / (2n+1)!!, all terms positive. */
function series(x: number): number {
  let [term, sum] = [x, x];
  for (let n = 1; term > 1e-17 * sum; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

/** erfc(x) = exp(-x2)/sqrt(pi) / (x + (1/2)/(x + 1/(x + (3/2)/(x + ...)))), from the inside out. */
function continuedFraction(x: number): number {
  const depth = Math.ceil(20 + 200 / (x * x));
  let value = x;
  for (let k = depth; k > 0; k--) value = x + k / 2 / value;
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * value);
}

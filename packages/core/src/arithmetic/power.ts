/**
 * Base to the power of exponent, for bases >= 0. Engines differ in the last bit of `x ** y` (Node 20 and 24 do), and a last bit can turn a
 * decision; their logarithm and exponential agree. Relative error at most 2.3e-16 (2 + 1.5 |exponent ln base|).
 */
export function power(base: number, exponent: number): number {
  return exponent === 0 ? 1 : Math.exp(exponent * Math.log(base));
}

import { exp, log } from './exponential.ts';

/**
 * Base to the power of exponent, for bases >= 0. The same on every engine, as `x ** y` is not. Relative error at most 2.3e-16 (2 + 1.5 |exponent ln base|).
 */
export function power(base: number, exponent: number): number {
  return exponent === 0 ? 1 : exp(exponent * log(base));
}

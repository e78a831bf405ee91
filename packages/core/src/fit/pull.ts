import { bandedProduct } from '../arithmetic/banded.ts';
import type { Prior } from './eliminate.ts';

/** Takes the prior's pull off the gradient; its part of the objective. */
export function addPrior(
  { precision, precisionMean }: Prior,
  coefficients: Float64Array,
  gradient: Float64Array,
): number {
  const p = coefficients.length;
  let value = 0;
  for (let j = 0; j < p; j++) {
    const pull = bandedProduct(precision, j, coefficients);
    gradient[j] += precisionMean[j] - pull;
    value += coefficients[j] * (0.5 * pull - precisionMean[j]);
  }
  return value;
}

import { log } from '../arithmetic/exponential.ts';
import { cholesky } from '../fit/cholesky.ts';
import { PRIORS } from './priors.ts';
import { copied } from '../arithmetic/stretch.ts';

/**
 * ln of what the shares of the parts say for a mixture: their prior, a log-normal about a fair share that does not count against larger
 * ones, times how much of it the amounts leave (Laplace's approximation): what is fixed narrowly was a sharper guess.
 * @param normal information that the amounts hold on the logarithms of the fractions, k × k
 */
export function lnSharesOf(fractions: Float64Array, normal: Float64Array): number {
  const k = fractions.length;
  const [fair, spread] = [PRIORS.share.value, PRIORS.shareSpread.value];
  const total = fractions.reduce((sum, value) => sum + value, 0);
  const posterior = copied(normal);
  let ln = k * (PRIORS.shareFree.value - log(spread));
  for (let m = 0; m < k; m++) {
    posterior[m * k + m] += 1 / spread ** 2;
    ln -= Math.max(0, log((fair * total) / fractions[m]) / spread) ** 2 / 2;
  }
  const factor = cholesky(posterior, k);
  for (let m = 0; m < k; m++) ln -= log(factor[m * k + m]);
  return ln;
}

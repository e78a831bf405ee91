import { xMedian } from 'ml-spectra-processing';

/**
 * Variance of the counts over that of Poisson counts, from second differences of the residuals where the model is smooth:
 * robust (median) and blind to slow misfit. Well below 1: the channels were re-binned or averaged before they were written.
 * For independent channels, r(i−1) − 2 r(i) + r(i+1) of unit-variance residuals has variance 6.
 */
export function dispersionOf(counts: Float64Array, model: Float64Array, lo: number, hi: number): number {
  const squares: number[] = [];
  for (let i = lo + 1; i + 1 < hi; i++) {
    const m = model[i];
    if (m < 10 || Math.abs(model[i + 1] - model[i - 1]) > 0.1 * m) continue;
    const r = (k: number): number => (counts[k] - model[k]) / Math.sqrt(model[k]);
    squares.push((r(i - 1) - 2 * r(i) + r(i + 1)) ** 2 / 6);
  }
  if (squares.length < 30) return 1;
  // The median of a chi-square with one degree of freedom is 0.4549.
  return xMedian(squares, { exact: true }) / 0.4549;
}

import type { EnergyAxis } from '../spectrum/spectrum.ts';

/**
 * Electronic noise (FWHM, eV) implied by the sharpest strong peak: a parabola through the logarithm of each strong
 * peak's top gives its FWHM, from which the statistical part is taken. Null when no peak is strong enough.
 * Merged peaks are wider than one line, so the smallest implied noise is the one to believe.
 * @param fanoPairEv Fano factor times energy per electron-hole pair, eV
 */
export function startingNoiseEv(
  counts: Float64Array,
  axis: EnergyAxis,
  range: { readonly lo: number; readonly hi: number },
  fanoPairEv: number,
): number | null {
  let highest = 0;
  for (let i = range.lo; i < range.hi; i++) highest = Math.max(highest, counts[i]);
  const threshold = Math.max(400, highest * 0.05);
  let best: number | null = null;
  for (let i = range.lo + 3; i < range.hi - 3; i++) {
    const top = counts[i];
    if (top < threshold || top < counts[i - 1] || top <= counts[i + 1]) continue;
    const fwhm = parabolaFwhm(counts, i, axis.gainEv);
    if (fwhm === null) continue;
    const energy = axis.offsetEv + axis.gainEv * i;
    const noiseSquared = fwhm * fwhm - 8 * Math.LN2 * fanoPairEv * energy;
    if (best === null || noiseSquared < best) best = noiseSquared;
  }
  return best === null ? null : Math.sqrt(Math.min(150 ** 2, Math.max(15 ** 2, best)));
}

/** FWHM from a weighted parabola through ln(counts) where they exceed 60 % of the top; null if not a clear peak. */
function parabolaFwhm(counts: Float64Array, top: number, gainEv: number): number | null {
  const level = 0.6 * counts[top];
  let from = top;
  let to = top;
  while (from > 0 && counts[from - 1] > level) from--;
  while (to < counts.length - 1 && counts[to + 1] > level) to++;
  if (to - from < 2 || to - from > 40) return null;
  const moments = new Float64Array(5);
  const values = new Float64Array(3);
  for (let i = from; i <= to; i++) {
    const x = i - top;
    const y = counts[i];
    const logY = Math.log(y);
    for (let k = 0; k < 5; k++) moments[k] += y * x ** k;
    for (let k = 0; k < 3; k++) values[k] += y * logY * x ** k;
  }
  const curvature = leadingCoefficient(moments, values);
  if (!(curvature < 0)) return null;
  const sigmaSquared = -1 / (2 * curvature) - 1 / 12;
  return sigmaSquared > 0 ? Math.sqrt(8 * Math.LN2 * sigmaSquared) * gainEv : null;
}

/** Quadratic coefficient of a weighted parabola from its moments (Cramer's rule). */
function leadingCoefficient(m: Float64Array, v: Float64Array): number {
  const [m0, m1, m2, m3, m4] = m as unknown as [number, number, number, number, number];
  const [v0, v1, v2] = v as unknown as [number, number, number];
  const det = m0 * (m2 * m4 - m3 * m3) - m1 * (m1 * m4 - m2 * m3) + m2 * (m1 * m3 - m2 * m2);
  const top = m0 * (m2 * v2 - m3 * v1) - m1 * (m1 * v2 - m2 * v1) + v0 * (m1 * m3 - m2 * m2);
  return top / det;
}

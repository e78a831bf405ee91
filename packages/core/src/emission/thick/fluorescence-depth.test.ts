import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../../atomic/composition.ts';
import { depthDistribution, matrixMeans, phiAt } from './depth-distribution.ts';
import { fluorescenceDepth } from './fluorescence-depth.ts';

/** Exponential integral E1: series up to 1, Lentz's continued fraction above (M. Abramowitz, I. Stegun, 5.1.11 and 5.1.22). */
function e1(x: number): number {
  if (x <= 1) {
    let [sum, term] = [-0.5772156649015329 - Math.log(x), -1];
    for (let k = 1; k < 25; k++) {
      term *= -x / k;
      sum += term / k;
    }
    return sum;
  }
  let fraction = 0;
  for (let k = 60; k > 0; k--) fraction = k / (1 + k / (x + fraction));
  return Math.exp(-x) / (x + fraction);
}

/** Integral of f over 0 to end by midpoints that are even in the logarithm. */
function overLogarithm(end: number, f: (x: number) => number): number {
  const [n, decades] = [400, 7];
  const step = (decades * Math.LN10) / n;
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const x = end * Math.exp(-(k + 0.5) * step);
    sum += f(x) * x * step;
  }
  return sum;
}

describe('fluorescence over depth', () => {
  it('E1 is right: 1.8229 at 0.1, 0.2194 at 1, 0.04890 at 2 (Abramowitz & Stegun, Table 5.1)', () => {
    for (const [x, value] of [
      [0.1, 1.82292396],
      [1, 0.21938393],
      [2, 0.04890051],
    ])
      expect(Math.abs(e1(x) / value - 1)).toBeLessThan(1e-6);
  });

  it.each([
    ['Ni', 20, 8.333, 60, 90],
    ['Fe', 15, 7.112, 500, 300],
    ['C', 20, 2.4, 300, 2000],
    ['Pb', 25, 13.0, 100, 5000],
  ])('%s at %d kV: the closed form is the double integral', (formula, beam, edge, mu, chi) => {
    const depth = depthDistribution(matrixMeans(massFractionsOf(formula)), beam, edge, 0.86);
    const numeric = overLogarithm(30 / Math.min(depth.a, depth.b), (born) => {
      const down = overLogarithm(40 / mu, (x) => e1(mu * x) * Math.exp(-chi * (born + x)));
      const up = overLogarithm(born, (x) => e1(mu * x) * Math.exp(-chi * (born - x)));
      return phiAt(depth, born) * 0.5 * (down + up);
    });
    const closed = fluorescenceDepth(depth, mu).leaving(chi);
    expect(Math.abs(closed / (numeric / depth.generated) - 1)).toBeLessThan(2e-3);
  });

  it('absorbs half where mu is small (the photons that go down) and all where it is large', () => {
    const depth = depthDistribution(matrixMeans(massFractionsOf('Au')), 20, 2, 0.78);
    const all = (mu: number): number => mu * fluorescenceDepth(depth, mu).leaving(1e-9);
    expect(Math.abs(all(1) - 0.5)).toBeLessThan(0.01);
    expect(Math.abs(all(1e7) - 1)).toBeLessThan(0.01);
  });
});

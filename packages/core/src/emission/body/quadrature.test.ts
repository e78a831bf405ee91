import { expect, it } from 'vitest';
import { gaussLegendre } from './quadrature.ts';

// Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4 (on -1 to 1).
it('has the tabulated nodes and weights of 4 points', () => {
  const { nodes, weights } = gaussLegendre(4);
  const table = [
    [-0.861136311594053, 0.347854845137454],
    [-0.339981043584856, 0.652145154862546],
    [0.339981043584856, 0.652145154862546],
    [0.861136311594053, 0.347854845137454],
  ];
  table.forEach(([x, w], i) => {
    expect(Math.abs(2 * nodes[i] - 1 - x)).toBeLessThan(1e-14);
    expect(Math.abs(2 * weights[i] - w)).toBeLessThan(1e-14);
  });
});

it.each([1, 2, 7, 14])('with %i points is exact for powers up to 2 n - 1', (n) => {
  const { nodes, weights } = gaussLegendre(n);
  for (let power = 0; power < 2 * n; power++) {
    const sum = nodes.reduce((total, x, i) => total + weights[i] * x ** power, 0);
    expect(Math.abs(sum * (power + 1) - 1)).toBeLessThan(1e-13);
  }
});

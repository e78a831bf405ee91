import { cos } from '../../arithmetic/angle.ts';

/** Nodes and weights of a Gauss-Legendre rule on 0 to 1 (Abramowitz & Stegun, Handbook of Mathematical Functions, 25.4.30). */
export interface Rule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/** The rule of n points, by Newton's method on the Legendre polynomial. */
export function gaussLegendre(n: number): Rule {
  const [nodes, weights]: [number[], number[]] = [[], []];
  for (let i = 0; i < n; i++) {
    let x = cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 20; step++) {
      let [before, value] = [1, x];
      for (let k = 2; k <= n; k++) [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
      slope = (n * (x * value - before)) / (x * x - 1);
      x -= value / slope;
    }
    nodes.unshift((1 + x) / 2);
    weights.unshift(1 / ((1 - x * x) * slope * slope));
  }
  return { nodes, weights };
}

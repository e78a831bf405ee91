import { LINE_TABLE, lineAt, type Line } from '../atomic/lines.ts';
import type { FoundLine } from './finding.ts';

/** The line of a group with the largest detected area. */
export function strongestLine(lines: readonly number[], areas: Float64Array): Line {
  return lineAt(lines.reduce((best, i) => (areas[i] > areas[best] ? i : best), lines[0]));
}

/** Lines told per element, and the smallest share of the element's counts worth telling. */
const MOST_LINES = 8;
const MIN_SHARE = 0.01;

/** An element's strongest detected lines with their counts at this amount, strongest first. */
export function foundLines(z: number, areas: Float64Array, amount: number): FoundLine[] {
  const indices: number[] = [];
  let total = 0;
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
    total += areas[i];
    indices.push(i);
  }
  return indices
    .filter((i) => areas[i] > MIN_SHARE * total)
    .sort((a, b) => areas[b] - areas[a] || a - b)
    .slice(0, MOST_LINES)
    .map((i) => {
      const { iupac, siegbahn, energyEv } = lineAt(i);
      return { line: iupac, siegbahn, energyEv, counts: areas[i] * amount };
    });
}

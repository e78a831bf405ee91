import { sumOver } from '../arithmetic/sum.ts';
import { LINE_TABLE, lineAt, type Line } from '../atomic/lines.ts';
import type { FoundLine } from './finding.ts';

/** The line of a group with the largest detected area. */
export function strongestLine(lines: readonly number[], areas: Float64Array): Line {
  let best = lines[0];
  for (const i of lines) if (areas[i] > areas[best]) best = i;
  return lineAt(best);
}

/** Lines told per element, and the smallest share of the element's counts worth telling. */
const MOST_LINES = 8;
const MIN_SHARE = 0.01;

/** An element's strongest detected lines with their counts at this amount, strongest first. */
export function foundLines(z: number, areas: Float64Array, amount: number): FoundLine[] {
  const [from, to] = [LINE_TABLE.first[z], LINE_TABLE.first[z + 1]];
  const least = MIN_SHARE * sumOver(areas, from, to);
  const found: DetectedLine[] = [];
  for (let i = from; i < to; i++) if (areas[i] > least) found.push({ row: i, area: areas[i] });
  const strongest = found.sort(strongestFirst).slice(0, MOST_LINES);
  return strongest.map(({ row, area }) => {
    const { iupac, siegbahn, energyEv } = lineAt(row);
    return { line: iupac, siegbahn, energyEv, counts: area * amount };
  });
}

/** A row of LINE_TABLE, with its detected area. */
interface DetectedLine {
  readonly row: number;
  readonly area: number;
}

const strongestFirst = (a: DetectedLine, b: DetectedLine): number => b.area - a.area || a.row - b.row;

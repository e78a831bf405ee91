import { describe, expect, it } from 'vitest';
import { LINE_TABLE, lineAt } from '../atomic/lines.ts';
import { foundLines, strongestLine } from './lines.ts';

const LEAD = 82;
const [first, end] = [LINE_TABLE.first[LEAD], LINE_TABLE.first[LEAD + 1]];
/** Detected areas of the lines of lead, in the order of the table. */
const areasOf = (...own: readonly number[]): Float64Array => {
  const areas = new Float64Array(LINE_TABLE.count);
  areas.set(own, first);
  return areas;
};

describe('the lines that are told of an element', () => {
  it('are those above a hundredth of its counts, strongest first, each with its counts at the amount', () => {
    // 1 of 100 is no more than a hundredth.
    const told = foundLines(LEAD, areasOf(1, 27, 70, 2), 3);
    expect(told.map(({ counts }) => counts)).toEqual([210, 81, 6]);
    expect(told[0]).toMatchObject({ line: lineAt(first + 2).iupac, energyEv: lineAt(first + 2).energyEv });
  });

  it('are eight at most', () => {
    expect(end - first).toBeGreaterThan(9);
    expect(foundLines(LEAD, areasOf(...new Array<number>(9).fill(1)), 1)).toHaveLength(8);
  });

  it('are led by the strongest, the first of two alike', () => {
    const lines = [first, first + 1, first + 2];
    expect(strongestLine(lines, areasOf(1, 5, 5))).toEqual(lineAt(first + 1));
    expect(strongestLine(lines, areasOf(5, 1, 4))).toEqual(lineAt(first));
  });
});

import { describe, expect, it } from 'vitest';
import { LINE_TABLE } from '../atomic/lines.ts';
import { CANDIDATE_ELEMENTS, priorPenalty } from './candidates.ts';
import { isMoreAsked, isSoftFamily, SOFT_BELOW_EV, thresholdOf } from './thresholds.ts';

/** What an element must show, as this file's docstrings say it: changed on purpose, they are changed here as well. */
const EXPECTED = { deltaC: 16, margin: 6 };
const ORDINARY = { deltaC: 36, margin: 10 };
const UNUSUAL = { deltaC: 49, margin: 15 };
const RARE = { deltaC: 64, margin: 20 };
const LONE_SOFT = { deltaC: 36, margin: 20 };
const SOFT_FAMILY = { deltaC: 64, margin: 30 };
const SOFTEST_FAMILY = { deltaC: 200, margin: 100 };

const HARD = { soft: 0, below400: 0 };
/** Every line alike: K lines count as much as L and M lines. */
const even = new Float64Array(LINE_TABLE.count).fill(1);
/** Areas of one element's lines: so much in the L and M lines below an energy, the rest in all others alike. */
function areasOf(z: number, softShare: number, belowEv = SOFT_BELOW_EV): Float64Array {
  const areas = new Float64Array(LINE_TABLE.count);
  const [first, last] = [LINE_TABLE.first[z], LINE_TABLE.first[z + 1]];
  const isSoft = (i: number): boolean => LINE_TABLE.subshell[i] > 0 && LINE_TABLE.energyEv[i] < belowEv;
  const soft = Array.from({ length: last - first }, (_, k) => first + k).filter(isSoft).length;
  for (let i = first; i < last; i++) areas[i] = isSoft(i) ? softShare / soft : (1 - softShare) / (last - first - soft);
  return areas;
}

describe('what an element must show', () => {
  it.each([
    [4, SOFTEST_FAMILY],
    [5, SOFTEST_FAMILY],
    [6, EXPECTED],
    [7, LONE_SOFT],
    [8, EXPECTED],
    [9, LONE_SOFT],
    [20, ORDINARY],
    [82, ORDINARY],
  ])('is fixed by its number, Z = %i', (z, threshold) => {
    expect(thresholdOf(z, even, HARD)).toEqual(threshold);
  });

  it('is more where it is unusual, and more again where it is rare', () => {
    const asked = new Map(
      CANDIDATE_ELEMENTS.filter((z) => z > 9).map((z) => [priorPenalty(z), thresholdOf(z, areasOf(z, 0), HARD)]),
    );
    for (const [penalty, threshold] of asked)
      expect([penalty, threshold]).toEqual([penalty, penalty >= 15 ? RARE : penalty >= 12 ? UNUSUAL : ORDINARY]);
    expect(new Set([...asked.values()].map(({ deltaC }) => deltaC)).size).toBe(3);
  });

  it.each([
    [0.81, SOFT_FAMILY],
    [0.8, ORDINARY],
  ])('is more where %d of the evidence is soft: %o', (soft, threshold) => {
    expect(thresholdOf(26, areasOf(26, 0), { ...HARD, soft })).toEqual(threshold);
    // The K lines of sodium and magnesium lie there by nature.
    for (const z of [11, 12]) expect(thresholdOf(z, areasOf(z, 0), { ...HARD, soft })).toEqual(ORDINARY);
    expect(thresholdOf(26, areasOf(26, soft), HARD)).toEqual(threshold);
    expect(isSoftFamily(26, areasOf(26, soft))).toBe(threshold === SOFT_FAMILY);
  });

  it.each([
    [0.81, SOFTEST_FAMILY],
    [0.8, ORDINARY],
  ])('is most where %d of it lies below 400 eV: %o', (below400, threshold) => {
    expect(thresholdOf(20, areasOf(20, 0), { soft: 0, below400 })).toEqual(threshold);
  });

  it('is more than ordinary from 36 on', () => {
    expect(isMoreAsked(ORDINARY)).toBe(false);
    expect(isMoreAsked(UNUSUAL)).toBe(true);
  });
});

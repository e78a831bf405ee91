import { describe, expect, it } from 'vitest';
import type { Finding } from '../identify/finding.ts';
import { FAMILY_DOUBT } from '../model/groups.ts';
import { doubtOf, jointOf, totalOf } from './joint.ts';

const finding = (symbol: string, line: string, energyEv: number, more: Partial<Finding> = {}): Finding =>
  ({ symbol, lines: [{ line, energyEv }], correlations: [], ...more }) as unknown as Finding;

describe('the doubt of an amount', () => {
  it('is that of its strongest line: family, softness, and the shape of the grain', () => {
    const [hard, soft] = [finding('Fe', 'K-L3', 6400), finding('F', 'K-L3', 677)].map(doubtOf);
    // The family's doubt, 15 % for the shape; below 1 keV 25 % more.
    expect(totalOf(hard)).toBeCloseTo(Math.hypot(FAMILY_DOUBT.K, 0.15), 9);
    expect(totalOf(soft)).toBeCloseTo(Math.hypot(FAMILY_DOUBT.K, 0.15, 0.25), 9);
    expect([hard.line, hard.energyEv]).toEqual(['K', 6400]);
  });

  it('is what references leave of it, 15 % at least', () => {
    expect(totalOf(doubtOf(finding('Fe', 'K-L3', 6400, { referenced: 0.3 })))).toBe(0.3);
    expect(totalOf(doubtOf(finding('Fe', 'K-L3', 6400, { referenced: 0.1 })))).toBe(0.15);
  });
});

describe('amounts together', () => {
  const overlapping = (value: number): Finding[] => [
    finding('S', 'K-L3', 2307, { correlations: [{ symbol: 'Pb', value }] }),
    finding('Pb', 'M5-N7', 2345, { correlations: [{ symbol: 'S', value }] }),
  ];

  it('have the covariance that their overlap gives them, and none of their own', () => {
    const { counting, places } = jointOf(overlapping(-0.5), [0.02, 0.03], [1, 2]);
    expect(places).toEqual([1, 2]);
    expect([...counting]).toEqual([0, -0.5 * 0.02 * 0.03, -0.5 * 0.02 * 0.03, 0]);
  });

  it('have rows that add up to less than 0.95', () => {
    expect(jointOf(overlapping(-0.94), [1, 1], [0, 1]).counting[1]).toBeCloseTo(-0.94, 12);
    expect(jointOf(overlapping(-0.99), [1, 1], [0, 1]).counting[1]).toBeCloseTo(-0.95, 12);
  });

  it('of which one overlaps two are shrunk by the fuller of their rows', () => {
    const of = (symbol: string, ...with_: readonly string[]): Finding =>
      finding(symbol, 'K-L3', 2307, { correlations: with_.map((other) => ({ symbol: other, value: -0.6 })) });
    const { counting } = jointOf([of('S', 'Pb', 'Mo'), of('Pb', 'S'), of('Mo', 'S')], [1, 1, 1], [0, 1, 2]);
    // The row of sulfur adds up to 1.2.
    for (const place of [1, 2, 3, 6]) expect(counting[place]).toBeCloseTo((-0.6 * 0.95) / 1.2, 12);
    expect(counting[5]).toBeCloseTo(0, 12);
  });

  it('share physics by the nearness of their lines, and their family where it is one', () => {
    const iron = finding('Fe', 'K-L3', 6400);
    const { physics } = jointOf(
      [iron, finding('Ba', 'L3-M5', 6400), finding('Cu', 'K-L3', 12_800)],
      [0, 0, 0],
      [0, 1, 2],
    );
    const doubt = doubtOf(iron);
    expect(physics[0]).toBeCloseTo(totalOf(doubt) ** 2, 12);
    // One energy, two families: absorption and shape alone.
    expect(physics[1]).toBeCloseTo(doubt.shared ** 2, 12);
    // Twice the energy, one family: half of all that is shared.
    expect(physics[2]).toBeCloseTo((doubt.shared ** 2 + doubt.family ** 2) / 2, 12);
    expect(physics[6]).toBe(physics[2]);
  });
});

import { expect, it } from 'vitest';
import type { Finding } from '../identify/finding.ts';
import { spreadOf, type Term } from './ratio-spread.ts';

const finding = (symbol: string, line: string, energyEv: number, referenced?: number): Finding =>
  ({
    symbol,
    lines: [{ line, energyEv }],
    correlations: [],
    ...(referenced !== undefined && { referenced }),
  }) as unknown as Finding;
const term = (of: Finding, counting = 0.1, seen = true): Term => ({ finding: of, weight: 1, counting, seen });
const physics = (above: Finding, below: Finding): number => spreadOf([term(above)], [term(below)], false).physics;

it('counting adds up, and less where an overlap moves both amounts together', () => {
  const lead = finding('Pb', 'L3-M5', 10_551);
  const tin = finding('Sn', 'L3-M5', 3444);
  expect(spreadOf([term(lead, 0.3)], [term(tin, 0.4)], false).counting).toBeCloseTo(0.5, 12);
  const together = { ...lead, correlations: [{ symbol: 'Sn', value: 0.5 }] };
  const both = { ...tin, correlations: [{ symbol: 'Pb', value: 0.5 }] };
  // 0.09 + 0.16 - 2 * 0.5 * 0.3 * 0.4.
  expect(spreadOf([term(together, 0.3)], [term(both, 0.4)], false).counting).toBeCloseTo(Math.sqrt(0.13), 12);
});

it('the grain weighs on lines far apart, and not where references tell both', () => {
  const [one, same, far] = [finding('Fe', 'K-L3', 6400), finding('Co', 'K-L3', 6400), finding('Zr', 'K-L3', 12_800)];
  // Cross sections 11 % for each; the setting's 15 % is common at one energy, and half of it at twice the energy.
  expect(physics(one, same)).toBeCloseTo(Math.hypot(0.11, 0.11), 9);
  expect(physics(one, far)).toBeCloseTo(Math.hypot(0.11, 0.11, 0.15), 9);
  const [told, toldFar] = [finding('Fe', 'K-L3', 6400, 0.05), finding('Zr', 'K-L3', 12_800, 0.05)];
  expect(physics(told, toldFar)).toBeCloseTo(Math.hypot(0.05, 0.05), 9);
  // One reference alone: the grain's 15 % of the other, less twice the half that it has in common with what the reference left.
  expect(physics(told, far)).toBeCloseTo(Math.hypot(0.05, 0.11), 9);
});

it('an amount that is not seen brings no physics', () => {
  const [one, far] = [finding('Fe', 'K-L3', 6400), finding('Zr', 'K-L3', 12_800)];
  expect(spreadOf([term(one)], [term(far, 1, false)], false).physics).toBeCloseTo(Math.hypot(0.11, 0.15), 9);
});

it('an unknown thick window weighs by what it takes of each line', () => {
  const [soft, hard] = [finding('Na', 'K-L3', 1041), finding('Fe', 'K-L3', 6400)];
  const spread = (unknown: boolean): number => spreadOf([term(soft)], [term(hard)], unknown).physics;
  expect(spread(true)).toBeGreaterThan(2 * spread(false));
});

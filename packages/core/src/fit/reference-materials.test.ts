import { describe, expect, it } from 'vitest';
import type { RatioBelief } from '../model/instrument-knowledge.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { taughtBy, type KnownEvidence } from './reference-materials.ts';

const layers = { window: DEFAULT_DETECTOR.window, windowUm: 0.3, iceUm: 0.2 } as const;
const ratio = (mean: number, sigma: number, more: Partial<RatioBelief> = {}): RatioBelief => ({
  ...{ z: 50, kind: 'group-ratio', label: 'Lβ', usualSigma: 0.2, mean, sigma },
  ...more,
});
const said = (by: string, ...ratios: readonly RatioBelief[]): KnownEvidence => ({ by, layers, amounts: [], ratios });

describe('a line ratio that reference materials tell', () => {
  it('is the weighted mean with what was believed before, scatter between materials counted', () => {
    const { taught } = taughtBy([
      said('tin', ratio(0.3, 0.03)),
      said('bronze', ratio(0.2, 0.04), ratio(0, 9, { z: 29 })),
    ]);
    const [one, two, before] = [1 / (0.03 ** 2 + 0.05 ** 2), 1 / (0.04 ** 2 + 0.05 ** 2), 1 / 0.2 ** 2];
    const total = one + two + before;
    expect(taught.ratios).toHaveLength(1);
    expect(taught.ratios[0].mean).toBeCloseTo((0.3 * one + 0.2 * two) / total, 12);
    // No better than materials differ.
    expect(Math.max(0.05, 1 / Math.sqrt(total))).toBe(0.05);
    expect(taught.ratios[0].sigma).toBe(0.05);
    expect(taught.findings).toMatchObject([{ z: 50, by: ['tin', 'bronze'], before: { mean: 0, sigma: 0.2 } }]);
    expect(taught.findings[0].quantity).toBe('Sn Lβ against its leading line, relative');
    const family = taughtBy([said('tin', ratio(0.3, 0.03, { kind: 'family-ratio', label: 'M' }))]).taught;
    expect(family.findings[0].quantity).toBe('Sn M against its leading family, relative');
    expect(taughtBy([said('tin', ratio(0.3, 0.03))]).taught.ratios[0].sigma).toBeCloseTo(
      1 / Math.sqrt(one + before),
      12,
    );
  });

  it('is told where it narrows the belief to 0.8 of its doubt, or moves it by half of that', () => {
    // sigma after = 0.8 usual: 1/own = 0.64/0.36 usual squared.
    const sigmaFor = (part: number): number => Math.sqrt((0.2 ** 2 * part ** 2) / (1 - part ** 2) - 0.05 ** 2);
    const isTold = (one: RatioBelief): boolean => taughtBy([said('tin', one)]).taught.ratios.length === 1;
    expect(isTold(ratio(0, sigmaFor(0.79)))).toBe(true);
    expect(isTold(ratio(0, sigmaFor(0.81)))).toBe(false);
    // At 0.9 of the doubt the belief moves by 0.19 of what is said.
    const moved = (by: number): number => by / (1 - 0.9 ** 2);
    expect(isTold(ratio(moved(0.101), sigmaFor(0.9)))).toBe(true);
    expect(isTold(ratio(moved(-0.101), sigmaFor(0.9)))).toBe(true);
    expect(isTold(ratio(moved(0.099), sigmaFor(0.9)))).toBe(false);
  });

  it('never takes a line away altogether', () => {
    expect(taughtBy([said('tin', ratio(-3, 0.03))]).taught.ratios[0].mean).toBe(-0.95);
  });
});

describe('layers and labels', () => {
  const amounts = (ice: number) =>
    [0, -0.1, -0.4, -0.8].map((byIce, k) => ({ z: 6 + k, byIce, byWindow: 0, logRatio: ice * byIce, sigma: 0.02 }));

  it('ice is taught where the amounts narrow it, a window of which they say nothing is not', () => {
    const { taught } = taughtBy([{ ...said('glass'), amounts: amounts(2) }]);
    expect(taught.layers.iceUm).toBeCloseTo(0.4, 2);
    expect(taught.layers.windowUm).toBeUndefined();
    expect(taught.findings).toMatchObject([{ z: null, quantity: 'ice on the detector, um', by: ['glass'] }]);
    const window = amounts(1).map(({ byIce, ...one }) => ({ ...one, byIce: 0, byWindow: byIce }));
    const behind = taughtBy([{ ...said('glass'), amounts: window }]).taught;
    expect(behind.layers.iceUm).toBeUndefined();
    expect(behind.layers.windowUm).toBeCloseTo(0.3 * 1.25, 2);
    expect(behind.findings).toMatchObject([{ quantity: 'window of the detector, um' }]);
  });

  it('what contradicts its label teaches no ratio either', () => {
    const wrong = amounts(0).map((one, k) => ({ ...one, byIce: 0, logRatio: k === 3 ? 2 : 0 }));
    const lead = { ...said('lead', ratio(0.3, 0.03)), amounts: wrong };
    const { taught, contradicted } = taughtBy([lead, { ...said('glass'), amounts: amounts(2) }]);
    expect([...contradicted.keys()]).toEqual(['lead']);
    expect(taught.ratios).toEqual([]);
    expect(taughtBy([{ ...lead, amounts: amounts(0) }]).taught.ratios).toHaveLength(1);
  });
});

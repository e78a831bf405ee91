import { describe, expect, it } from 'vitest';
import { otherAxes, penaltyOf } from './other-axes.ts';

const stated = { offsetEv: -100, gainEv: 10 };
const moved = (offsetEv: number, gain: number) => ({ offsetEv: -100 + offsetEv, gainEv: 10 * (1 + gain) });

describe('axes that are tried beside the stated one', () => {
  const axes = otherAxes(stated);
  const gains = [...new Set(axes.map(({ gainEv }) => gainEv))];
  const offsets = [...new Set(axes.map(({ offsetEv }) => offsetEv))];

  it('are up to 6 % and 100 eV from it, on either side, each once', () => {
    expect(offsets).toEqual([-200, -150, -100, -50, 0]);
    expect(gains).toHaveLength(17);
    expect([gains[0], gains[8], gains[16]].map((gain) => Number(gain.toFixed(9)))).toEqual([9.4, 10, 10.6]);
    expect(axes).toHaveLength(17 * 5);
    expect(new Set(axes.map(({ offsetEv, gainEv }) => `${offsetEv} ${gainEv}`)).size).toBe(17 * 5);
  });

  it('are so near each other that no peak at 10 keV falls between two of them', () => {
    // FWHM of today's detectors at 10 keV, some 160 eV; half of it is within reach of a fit.
    for (let k = 1; k < gains.length; k++) expect(Math.abs((gains[k] / gains[k - 1] - 1) * 10_000)).toBeLessThan(100);
  });
});

describe('what speaks against another axis', () => {
  it('is 30 of chi-square, and 15 more for each per cent of gain or 50 eV', () => {
    expect(penaltyOf(stated, stated)).toBe(30);
    expect(penaltyOf(stated, moved(0, 0.01))).toBeCloseTo(45, 9);
    expect(penaltyOf(stated, moved(0, -0.02))).toBeCloseTo(60, 9);
    expect(penaltyOf(stated, moved(50, 0))).toBeCloseTo(45, 9);
    expect(penaltyOf(stated, moved(-150, 0.04))).toBeCloseTo(30 + 15 * 5, 9);
  });
});

import { expect, it } from 'vitest';
import { axisThrough, peakCentre } from './two-peaks.ts';

/** Two Gaussians on a slope, 4 channels wide. */
const counts = Array.from({ length: 500 }, (_, i) =>
  Math.round(
    200 - 0.3 * i + 5000 * Math.exp(-0.5 * ((i - 120.4) / 4) ** 2) + 800 * Math.exp(-0.5 * ((i - 402.7) / 4) ** 2),
  ),
);

it('finds the centre of a peak that was pointed at beside it', () => {
  expect(Math.abs(peakCentre(counts, 117) - 120.4)).toBeLessThan(0.3);
  expect(Math.abs(peakCentre(counts, 408) - 402.7)).toBeLessThan(0.3);
  // At the ends there is nothing beyond.
  expect(peakCentre([0, 0, 0], 1)).toBe(1);
  expect(peakCentre(counts, 10_000)).toBeGreaterThan(480);
});

it('lays the axis through both', () => {
  const { gainEv, offsetEv } = axisThrough({ channel: 120, energyEv: 1740 }, { channel: 402, energyEv: 6404 });
  expect(offsetEv + 120 * gainEv).toBeCloseTo(1740, 9);
  expect(offsetEv + 402 * gainEv).toBeCloseTo(6404, 9);
  // The order of the peaks is of no account.
  expect(axisThrough({ channel: 402, energyEv: 6404 }, { channel: 120, energyEv: 1740 }).gainEv).toBeCloseTo(
    gainEv,
    12,
  );
  for (const [channel, energyEv] of [
    [120, 6404],
    [402, 1000],
    [120, 1740],
  ])
    expect(() => axisThrough({ channel: 120, energyEv: 1740 }, { channel, energyEv })).toThrow(RangeError);
});

import { describe, expect, it } from 'vitest';
import { columnOf } from '../model/column.ts';
import { cash, cashMoments } from './cash.ts';
import { channelMisfit, inflationUnder, misfitOf, pValueOf, regionsOf, type ChannelMisfit } from './quality.ts';
import type { SpectrumFit } from './spectrum-fit.ts';

const N = 120;
const column = columnOf(Float64Array.from({ length: N }, (_, i) => (i >= 10 && i < 110 ? 1 : 0)));
const expected = new Float64Array(N).fill(100);
const scene = { counts: expected, range: { lo: 0, hi: N, behindHump: false } } as Parameters<typeof inflationUnder>[3];
/** A misfit so many times what counting leaves, in the channels given; as counting leaves it elsewhere. */
const misfit = (times: number, from = 0, to = N): ChannelMisfit => ({
  c: Float64Array.from({ length: N }, (_, i) => (i >= from && i < to ? times : 1)),
  mean: new Float64Array(N).fill(1),
  variance: new Float64Array(N).fill(2),
});
const inflation = (channels: ChannelMisfit): number => inflationUnder(column, channels, expected, scene);

describe('the standard deviation of an amount where the model misfits', () => {
  it('grows by the root of the misfit under its lines, less two standard deviations of chance', () => {
    // 100 channels of variance 2: chance may add 2 sqrt(200) to the 100 that are expected.
    for (const times of [2, 4, 25])
      expect(inflation(misfit(times))).toBeCloseTo(Math.sqrt(times - (2 * Math.sqrt(200)) / 100), 9);
  });

  it('stays as it is where chance alone may have done it, and never falls', () => {
    expect(inflation(misfit(1))).toBe(1);
    expect(inflation(misfit(1.28))).toBe(1);
    expect(inflation(misfit(1.29))).toBeGreaterThan(1);
    expect(inflation(misfit(0.2))).toBe(1);
  });

  it('feels nothing of a misfit elsewhere', () => {
    expect(inflation(misfit(50, 110, N))).toBe(1);
    expect(inflation(misfit(50, 0, 10))).toBe(1);
  });
});

describe('the misfit of a fit', () => {
  const counts = Float64Array.from({ length: N }, (_, i) => (i % 5 === 0 ? 0 : 90 + (i % 30)));
  const part = { counts, range: { lo: 7, hi: 111, behindHump: false } } as Parameters<typeof channelMisfit>[0];
  const channels = channelMisfit(part, expected);
  const fitWith = (effectiveParameters: number, gainEv = 100): SpectrumFit =>
    ({
      fit: { effectiveParameters },
      at: { instrument: { axis: { offsetEv: -50, gainEv } } },
    }) as unknown as SpectrumFit;
  const moments = cashMoments(100);

  it('is the Cash statistic of its channels, with what is expected of it', () => {
    const { c, expected: mean, variance } = misfitOf(part, fitWith(0), channels);
    expect(c).toBeCloseTo(cash(counts, expected, 7, 111), 8);
    expect(mean).toBeCloseTo(104 * moments.mean, 8);
    expect(variance).toBeCloseTo(104 * moments.variance, 8);
    expect([channels.c[6], channels.mean[111], channels.variance[6]]).toEqual([0, 0, 0]);
  });

  it('is less by what the counts determine: one each of the expectation, two of the variance', () => {
    const [none, twelve, all] = [0, 12, 500].map((parameters) => misfitOf(part, fitWith(parameters), channels));
    expect(twelve.c).toBe(none.c);
    expect(none.expected - twelve.expected).toBeCloseTo(12, 9);
    expect(none.variance - twelve.variance).toBeCloseTo(24, 9);
    expect(all.variance).toBe(1);
  });

  it('is as likely as a normal number that far above its expectation', () => {
    // Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 26.1: P(1) = 0.84134, P(2) = 0.97725.
    const at = (sigmas: number): number => pValueOf({ c: 500 + 20 * sigmas, expected: 500, variance: 400 });
    expect(at(0)).toBeCloseTo(0.5, 9);
    expect(at(1)).toBeCloseTo(1 - 0.84134, 4);
    expect(at(2)).toBeCloseTo(1 - 0.97725, 4);
    expect(at(-1)).toBeCloseTo(0.84134, 4);
  });

  it('is told by stretches that end at 0.5, 1, 2, 4 and 8 keV, as far as the range goes', () => {
    const regions = regionsOf(part, fitWith(0), channels);
    // Channel 7 lies at 650 eV; each stretch begins with the first channel that is not below the end of the one before.
    expect(regions.map(({ fromEv, toEv }) => [fromEv, toEv])).toEqual([
      [650, 950],
      [1050, 1950],
      [2050, 3950],
      [4050, 7950],
      [8050, 10_950],
    ]);
    expect(regions.reduce((sum, { c }) => sum + c, 0)).toBeCloseTo(misfitOf(part, fitWith(0), channels).c, 8);
    expect(regions[0].expected).toBeCloseTo(4 * moments.mean, 9);
    expect(regions[0].variance).toBeCloseTo(4 * moments.variance, 9);
    expect(regionsOf(part, fitWith(0, 50), channels).map(({ fromEv }) => fromEv)).toEqual([300, 500, 1000, 2000, 4000]);
  });
});

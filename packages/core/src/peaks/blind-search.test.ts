import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { FWHM_PER_SIGMA, fwhmEv } from '../detector/resolution.ts';
import { poisson } from '../simulate/poisson.ts';
import { randomStream } from '../simulate/random.ts';
import { findPeaks } from './blind-search.ts';

const axis = { offsetEv: 0, gainEv: 10 };
const n = 2048;
const range = { lo: 15, hi: n };
const fwhm = (energyEv: number): number => fwhmEv(DEFAULT_DETECTOR, energyEv);

function search(level: number, planted: readonly { energyEv: number; area: number }[], seed: number) {
  const random = randomStream(seed, 0);
  const counts = Float64Array.from({ length: n }, (_, i) => {
    const energy = axis.offsetEv + axis.gainEv * i;
    let mean = level * (2 - i / n);
    for (const { energyEv, area } of planted) {
      const sigma = fwhm(energyEv) / FWHM_PER_SIGMA;
      mean +=
        ((area * axis.gainEv) / (sigma * Math.sqrt(2 * Math.PI))) * Math.exp(-0.5 * ((energy - energyEv) / sigma) ** 2);
    }
    return poisson(mean, random);
  });
  return findPeaks(counts, axis, range, fwhm);
}

describe('blind peak search', () => {
  it.each([2, 20, 300])(
    'finds at most one false peak per two spectra of noise alone, %i counts per channel',
    (level) => {
      let found = 0;
      for (let seed = 0; seed < 20; seed++) found += search(level, [], seed).length;
      expect(found / 20).toBeLessThanOrEqual(0.5);
    },
  );

  it('finds peaks of 8 standard deviations, nine of ten, with areas right on average', () => {
    const energies = [1000, 2500, 4000, 6400, 9000, 13_000];
    const level = 100;
    const planted = energies.map((energyEv) => ({
      energyEv,
      area: 28 * Math.sqrt((2 * level * fwhm(energyEv)) / axis.gainEv),
    }));
    const pulls: number[] = [];
    for (let seed = 100; seed < 120; seed++) {
      const peaks = search(level, planted, seed);
      for (const { energyEv, area } of planted) {
        const peak = peaks.find((other) => Math.abs(other.energyEv - energyEv) < 0.5 * fwhm(energyEv));
        if (peak) pulls.push((peak.counts - area) / peak.sigma);
      }
    }
    // The search for maxima misses a few per cent however strong the peak.
    expect(pulls.length / (20 * energies.length)).toBeGreaterThan(0.9);
    const mean = pulls.reduce((sum, pull) => sum + pull, 0) / pulls.length;
    expect(Math.abs(mean)).toBeLessThan(0.6);
  });

  it('of a range too short for it finds nothing', () => {
    for (const hi of [15, 16, 20])
      expect(findPeaks(new Float64Array(n).fill(9), axis, { lo: 15, hi }, fwhm)).toEqual([]);
  });

  it('keeps two peaks 1.6 FWHM apart, and one of a single broad top', () => {
    const apart = 1.6 * fwhm(6400);
    const both = search(
      50,
      [
        { energyEv: 6400, area: 5e4 },
        { energyEv: 6400 + apart, area: 5e4 },
      ],
      7,
    );
    expect(both.filter(({ energyEv }) => energyEv > 6200 && energyEv < 6900).length).toBe(2);
    const one = search(50, [{ energyEv: 6400, area: 5e5 }], 7);
    expect(one.filter(({ energyEv }) => Math.abs(energyEv - 6400) < 60).length).toBe(1);
  });
});

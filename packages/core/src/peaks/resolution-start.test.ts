import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { fwhmEv } from '../detector/resolution.ts';
import { simulate } from '../simulate/simulate.ts';
import { startingNoise } from './resolution-start.ts';

const axis = { offsetEv: 0, gainEv: 10 };
const range = { lo: 15, hi: 1400 };
const fanoPair = DEFAULT_DETECTOR.fano * DEFAULT_DETECTOR.pairEv;

describe('the noise to start from', () => {
  it.each([40, 50, 60, 75, 90])('gives the width at Mn K within 5 percent for a noise of %d eV', (noiseEv) => {
    const detector = { ...DEFAULT_DETECTOR, noiseEv };
    for (const composition of ['SiO2', 'CaCO3', 'Fe2O3']) {
      const { counts } = simulate({ composition }, { beamKev: 15, totalCounts: 500_000, seed: 8, detector });
      const found = startingNoise(counts, axis, range, fanoPair)!.noiseEv;
      const ratio = fwhmEv({ ...detector, noiseEv: found }, 5899) / fwhmEv(detector, 5899);
      expect(Math.abs(ratio - 1), `${composition}: ${found}`).toBeLessThan(0.05);
    }
  });

  it('is too wide, never too narrow, where no line stands alone: up to 15 % at a poor resolution', () => {
    for (const noiseEv of [40, 60, 90]) {
      const detector = { ...DEFAULT_DETECTOR, noiseEv };
      const { counts } = simulate({ composition: 'PbSnO3' }, { beamKev: 15, totalCounts: 500_000, seed: 8, detector });
      const found = startingNoise(counts, axis, range, fanoPair)!.noiseEv;
      const ratio = fwhmEv({ ...detector, noiseEv: found }, 5899) / fwhmEv(detector, 5899);
      expect(ratio).toBeGreaterThan(0.97);
      expect(ratio).toBeLessThan(1.15);
    }
  });

  // Ti L 452 and 395 eV beside O K 525 eV (X-Ray Data Booklet, table 1-2): one broad hump at 60 % of its top.
  it('is not that of a hump of two lines', () => {
    const perturb = { seed: 14400, lineRatio: 0.1, family: 0.15, tail: 0.3, window: 0.15 };
    const detector = { ...DEFAULT_DETECTOR, noiseEv: 55 };
    const { counts } = simulate({ composition: 'TiO2' }, { beamKev: 5, totalCounts: 1e6, seed: 8, detector, perturb });
    const { noiseEv } = startingNoise(counts, axis, range, fanoPair)!;
    expect(noiseEv).toBeGreaterThan(45);
    expect(noiseEv).toBeLessThan(80);
  });

  it('scatters with counting as its uncertainty says, and no chance sharpness is believed', () => {
    const detector = { ...DEFAULT_DETECTOR, noiseEv: 55 };
    const composition = 'P2V2Hf';
    const pulls = Array.from({ length: 40 }, (_, k) => {
      const { counts } = simulate({ composition }, { beamKev: 25, totalCounts: 30_000, seed: 100 + k, detector });
      const { noiseEv, sigmaEv } = startingNoise(counts, axis, range, fanoPair)!;
      expect(noiseEv, `seed ${100 + k}`).toBeGreaterThan(30);
      return (noiseEv - 55) / Math.hypot(sigmaEv, 5);
    });
    // Too wide it may be (lines stand close together), too sharp not.
    expect(pulls.filter((pull) => pull < -3)).toEqual([]);
  });

  it('is left open where no peak is strong enough', () => {
    const { counts } = simulate({ composition: 'SiO2' }, { beamKev: 15, totalCounts: 2000, seed: 8 });
    expect(startingNoise(counts, axis, range, fanoPair)).toBeNull();
    expect(startingNoise(new Float64Array(2048).fill(1000), axis, range, fanoPair)).toBeNull();
  });

  it('stays within bounds whatever the peaks look like', () => {
    const counts = new Float64Array(2048);
    counts.set([900, 1000, 900], 300);
    counts.set([1, 1000, 1], 500);
    const noise = startingNoise(counts, axis, range, fanoPair);
    expect(noise === null || (noise.noiseEv >= 15 && noise.noiseEv <= 150)).toBe(true);
  });
});

import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { continuumEndEv, landingEnergyEv, prolongedEndEv } from './beam-energy.ts';

const axis = { offsetEv: 0, gainEv: 20 };
/** Scatter of unit variance and mean 0 that repeats itself: the golden ratio spreads it evenly. */
const SCATTER = (i: number): number => Math.sqrt(12) * (((i * 0.618034) % 1) - 0.5);

// The continuum ends at the beam energy: Duane & Hunt, Phys. Rev. 6 (1915) 166.
describe('the end of the continuum', () => {
  it.each([8, 10, 12, 15, 20, 25, 30])('is the beam energy, %i keV, within 6 %% at a million counts', (beamKev) => {
    for (const composition of ['SiO2', 'Fe2O3', '2PbCO3*Pb(OH)2', 'Au']) {
      for (const seed of [1, 2]) {
        const { counts } = simulate({ composition }, { beamKev, totalCounts: 1e6, seed, axis, pileUp: 0 });
        const end = continuumEndEv(counts, axis)!;
        expect(Math.abs(end / (beamKev * 1000) - 1), `${composition}, seed ${seed}: ${end}`).toBeLessThan(0.06);
      }
    }
  });

  it('is not told where the axis ends before the continuum does, or holds nothing to go by', () => {
    const { counts } = simulate({ composition: 'Au' }, { beamKev: 25, totalCounts: 1e6, seed: 3, channels: 1024 });
    expect(continuumEndEv(counts, { offsetEv: 0, gainEv: 10 })).toBeNull();
    expect(continuumEndEv(new Float64Array(32), axis)).toBeNull();
  });
});

describe('the end of the continuum read off a straight line', () => {
  /** Counts times energy fall on a straight line to zero at one energy, and are cut off at another; each in keV. */
  const cut = (zeroKev: number, cutKev: number): Float64Array =>
    Float64Array.from({ length: 1000 }, (_, i) => {
      const kev = (i + 0.5) * 0.02;
      return kev < cutKev ? (2e3 * (zeroKev - kev)) / kev : 0;
    });

  it.each([
    [10.6, 10.6],
    [11.4, 11.4],
    [11.6, 11.5],
    [13, 11.5],
    [16, 11.5],
  ])('at %d keV is told as %d keV: no more than 15 %% beyond the last counts, at 10 keV', (zeroKev, toldKev) => {
    expect(continuumEndEv(cut(zeroKev, 10), axis)! / 1000).toBeCloseTo(toldKev, 1);
  });
});

describe('the end of the continuum under sums of photons', () => {
  it.each(['Fe', 'Cu', 'FeS2'])('is not taken for that of the sums of %s', (composition) => {
    for (const pileUp of [0.005, 0.02]) {
      const { counts } = simulate({ composition }, { beamKev: 10, totalCounts: 3e6, seed: 6, axis, pileUp });
      expect(Math.abs(continuumEndEv(counts, axis)! / 10_000 - 1), `${pileUp}`).toBeLessThan(0.1);
    }
  });
});

describe('the end of the continuum under sums of three photons', () => {
  it('is not taken for their peak, which stands alone', () => {
    const { counts } = simulate({ composition: 'V' }, { beamKev: 10, totalCounts: 1e6, seed: 6, axis, pileUp: 0.01 });
    // V K-L3 at 4.952 keV (Bearden, Rev. Mod. Phys. 39 (1967) 78): 60 counts at three times that, over ten channels.
    const [first, channels] = [Math.round((3 * 4952) / axis.gainEv) - 5, 10];
    for (let i = first; i < first + channels; i++) counts[i] += 60 / channels;
    expect(Math.abs(continuumEndEv(counts, axis)! / 10_000 - 1)).toBeLessThan(0.1);
  });
});

describe('the end of the continuum above a floor', () => {
  it('is told where the counts beyond it lie at one level, whatever its height', () => {
    const { counts } = simulate({ composition: 'SiO2' }, { beamKev: 15, totalCounts: 1e6, seed: 8, axis, pileUp: 0 });
    const raised = counts.map((value) => value + 90);
    expect(Math.abs(continuumEndEv(raised, axis)! / 15_000 - 1)).toBeLessThan(0.1);
  });

  // 27 counts a channel, 270 a block of 200 eV: no one block tells that they lie at one level, the 5 keV beyond the beam energy do.
  it('is told above a low one', () => {
    for (const floor of [27, 12]) {
      const { counts } = simulate({ composition: 'SiO2' }, { beamKev: 15, totalCounts: 3e5, seed: 1, axis, pileUp: 0 });
      const ends = [1024, 1200].map((channels) => {
        const scattered = counts.subarray(0, channels).map((count, i) => count + floor + Math.sqrt(floor) * SCATTER(i));
        return continuumEndEv(scattered, axis);
      });
      for (const end of ends) expect(Math.abs(end! / 15_000 - 1), `${floor}: ${end}`).toBeLessThan(0.1);
    }
  });
});

describe('the continuum prolonged beyond the axis', () => {
  it('ends at the beam energy where that lies near, and is not told where it lies far', () => {
    const onAxis = (beamKev: number): Float64Array =>
      simulate({ composition: 'WS2' }, { beamKev, totalCounts: 5e5, seed: 7, channels: 1000, pileUp: 0 }).counts;
    const short = { offsetEv: 0, gainEv: 10 };
    expect(Math.abs(prolongedEndEv(onAxis(10), short)! / 10_000 - 1)).toBeLessThan(0.05);
    expect(prolongedEndEv(onAxis(25), short)).toBeNull();
  });
});

describe('the energy with which electrons land', () => {
  it('is told where a charged specimen slows them down', () => {
    const { counts } = simulate({ composition: 'SiO2' }, { beamKev: 8, totalCounts: 3e5, seed: 4, axis, pileUp: 0 });
    expect(Math.abs(landingEnergyEv(counts, axis, 10_000)! / 8000 - 1)).toBeLessThan(0.06);
  });

  it('is told above the sums of photons that a strong line leaves there', () => {
    const { counts } = simulate({ composition: 'Fe' }, { beamKev: 12, totalCounts: 1e5, seed: 9, axis, pileUp: 0.06 });
    expect(Math.abs(landingEnergyEv(counts, axis, 16_000)! / 12_000 - 1)).toBeLessThan(0.06);
  });

  it('is not doubted where the beam energy is right, nor where too few counts could prove it wrong', () => {
    for (const composition of ['C', 'SiO2', 'CuCO3*Cu(OH)2', '2PbCO3*Pb(OH)2']) {
      for (const totalCounts of [500, 2e4, 1e6]) {
        const { counts } = simulate({ composition }, { beamKev: 20, totalCounts, seed: 5, axis });
        expect(landingEnergyEv(counts, axis, 20_000), `${composition}, ${totalCounts} counts`).toBeNull();
      }
    }
  });
});

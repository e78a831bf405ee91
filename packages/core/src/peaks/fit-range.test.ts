import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { fitRange } from './fit-range.ts';

const axis = { offsetEv: 0, gainEv: 10 };
const quartz = (beamKev: number, seed = 1, zeroPeakCounts = 0): Float64Array =>
  simulate({ composition: 'SiO2' }, { beamKev, totalCounts: 300_000, seed, zeroPeakCounts }).counts;

describe('the fitted range', () => {
  it('runs from above the noise edge to just below the beam energy', () => {
    const { lo, hi, behindHump } = fitRange(quartz(15), axis, 15_000);
    expect(lo).toBe(15);
    expect(hi).toBeLessThanOrEqual(1440);
    expect(hi).toBeGreaterThan(1300);
    expect(behindHump).toBe(false);
  });

  it('is the same with a zero peak below it, and in eV the same on an axis with an offset', () => {
    expect(fitRange(quartz(15, 1, 50_000), axis, 15_000).lo).toBe(15);
    const shifted = { offsetEv: -475, gainEv: 5 };
    const { counts } = simulate({ composition: 'SiO2' }, { beamKev: 15, totalCounts: 3e5, seed: 2, axis: shifted });
    const { lo } = fitRange(counts, shifted, 15_000);
    expect(shifted.offsetEv + shifted.gainEv * lo).toBeGreaterThanOrEqual(145);
    expect(shifted.offsetEv + shifted.gainEv * (lo - 1)).toBeLessThan(145);
  });

  it('starts above a cut-off and its cut channel', () => {
    const counts = quartz(15);
    counts.fill(0, 0, 40);
    counts[40] = 3;
    const { lo, behindHump } = fitRange(counts, axis, 15_000);
    expect(lo).toBe(41);
    expect(behindHump).toBe(false);
  });

  it('starts on the flat floor behind a discriminator, whatever the width of the channels', () => {
    // Nothing below 200 eV, a slope to 320 eV, a floor to 800 eV, and a peak's flank from there.
    const perEv = (ev: number): number =>
      ev < 200 ? 0 : ev < 320 ? 12 * ((ev - 200) / 120) ** 2 : ev < 800 ? 12 : 12 + (ev - 800) / 4;
    for (const gainEv of [5, 10, 20]) {
      const counts = Float64Array.from({ length: 15_000 / gainEv }, (_, i) => Math.round(perEv(gainEv * i) * gainEv));
      const { lo } = fitRange(counts, { offsetEv: 0, gainEv }, 15_000);
      expect(Math.abs(gainEv * lo - 320), `${gainEv} eV`).toBeLessThan(35);
    }
  });

  it('starts on the floor behind a noise hump, and says that the window is thick', () => {
    const counts = quartz(15);
    counts.fill(0, 0, 12);
    for (let i = 12; i < 90; i++) counts[i] = 2 + Math.round(60 * Math.exp(-0.5 * ((i - 17) / 3) ** 2));
    const { lo, behindHump } = fitRange(counts, axis, 15_000);
    expect(behindHump).toBe(true);
    expect(lo).toBeGreaterThan(22);
    expect(lo).toBeLessThan(35);
  });

  it('takes a hump higher than usual for noise only where nothing else there can be a peak', () => {
    const counts = quartz(15).map((value) => Math.round(value / 40));
    counts.fill(0, 0, 12);
    for (let i = 12; i < 90; i++) counts[i] = 2 + Math.round(60 * Math.exp(-0.5 * ((i - 17) / 3) ** 2));
    expect(fitRange(counts, axis, 15_000, true).behindHump).toBe(false);
    expect(fitRange(counts, axis, 15_000, 'of any height').behindHump).toBe(true);
  });

  it('does not take the flank of a faint carbon peak for a hump', () => {
    const counts = new Float64Array(1024);
    for (let i = 12; i < 60; i++) counts[i] = Math.round(200 * Math.exp(-0.5 * ((i - 27.7) / 3.5) ** 2));
    counts[300] = 2;
    const { lo, behindHump } = fitRange(counts, axis, 15_000, 'of any height');
    expect(behindHump).toBe(false);
    expect(lo).toBeLessThan(20);
  });

  it('stays inside the axis whatever it is given', () => {
    for (const [n, beamEv] of [
      [16, 20_000],
      [64, 300],
      [2048, 300_000],
      [40, 1],
    ]) {
      const { lo, hi } = fitRange(new Float64Array(n), axis, beamEv);
      expect(lo).toBeGreaterThanOrEqual(0);
      expect(lo).toBeLessThanOrEqual(hi);
      expect(hi).toBeLessThanOrEqual(n);
    }
  });
});

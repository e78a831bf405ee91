import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from './detector.ts';
import { addRadiativeAuger, radiativeAugerOf } from './radiative-auger.ts';
import { resolutionStatement, withResolution } from './resolution-statement.ts';
import { FWHM_PER_SIGMA } from './resolution.ts';
import { addZeroPeak } from './zero-peak.ts';

const AXIS = { offsetEv: -200, gainEv: 5 };

function moments(values: Float64Array): { area: number; mean: number; sigma: number } {
  let [area, first, second] = [0, 0, 0];
  values.forEach((count, i) => {
    const ev = AXIS.offsetEv + AXIS.gainEv * i;
    area += count;
    first += count * ev;
    second += count * ev * ev;
  });
  return { area, mean: first / area, sigma: Math.sqrt(second / area - (first / area) ** 2 - AXIS.gainEv ** 2 / 12) };
}

describe('addZeroPeak', () => {
  it('lies at 0 eV with the electronic noise as its width', () => {
    const out = new Float64Array(400);
    addZeroPeak(out, AXIS, DEFAULT_DETECTOR, 5e4);
    const { area, mean, sigma } = moments(out);
    expect(Math.abs(area - 5e4)).toBeLessThan(1e-3);
    expect(Math.abs(mean)).toBeLessThan(1e-6);
    expect(Math.abs((sigma * FWHM_PER_SIGMA) / DEFAULT_DETECTOR.noiseEv - 1)).toBeLessThan(1e-4);
  });
});

describe('radiative Auger', () => {
  const added = (z: number, iupac: string, lineEv: number, counts: number): Float64Array => {
    const out = new Float64Array(1600);
    for (const band of radiativeAugerOf(z, iupac))
      addRadiativeAuger(out, AXIS, DEFAULT_DETECTOR, band, z, lineEv, counts * band.fraction);
    return out;
  };

  it('KLL: puts 0.2 % of Si K-alpha 1.7 L3 edges below it, wider than the resolution', () => {
    const { area, mean, sigma } = moments(added(14, 'K-L3', 1740, 1e6));
    expect(Math.abs(area - 2000)).toBeLessThan(0.1);
    // Si L3 99.2 eV, X-Ray Data Booklet Table 1-1.
    expect(Math.abs(mean - (1740 - 1.7 * 99.2))).toBeLessThan(1);
    expect(Math.abs(sigma / Math.hypot(0.4 * 99.2, 79 / FWHM_PER_SIGMA) - 1)).toBeLessThan(0.05);
  });

  it('KMM: puts 0.6 % of Fe K-beta 1.3 M1 edges below it, wider than the resolution', () => {
    const { area, mean, sigma } = moments(added(26, 'K-M3', 7058, 1e6));
    expect(Math.abs(area - 6000)).toBeLessThan(0.1);
    // Fe M1 91.3 eV, X-Ray Data Booklet Table 1-1.
    expect(Math.abs(mean - (7058 - 1.3 * 91.3))).toBeLessThan(1);
    expect(Math.abs(sigma / Math.hypot(0.5 * 91.3, 140 / FWHM_PER_SIGMA) - 1)).toBeLessThan(0.05);
  });

  it('leaves other lines and elements alone', () => {
    expect(radiativeAugerOf(26, 'K-L3')).toEqual([]);
    expect(radiativeAugerOf(26, 'L3-M5')).toEqual([]);
    expect(radiativeAugerOf(8, 'K-L3')).toEqual([]);
    expect(radiativeAugerOf(38, 'K-M3')).toEqual([]);
    expect(radiativeAugerOf(20, 'K-M3').map(({ name }) => name)).toEqual(['KLL', 'KMM']);
  });
});

describe('resolutionStatement', () => {
  it('gives back a stated resolution, and soft lines narrower than Mn', () => {
    for (const stated of [121, 125, 129, 133]) {
      const { mnKaEv, cKEv, fKEv } = resolutionStatement(withResolution(DEFAULT_DETECTOR, stated));
      // What incomplete charge collection adds at 5.9 keV.
      expect(mnKaEv / stated).toBeGreaterThanOrEqual(1);
      expect(mnKaEv / stated).toBeLessThan(1.003);
      expect(cKEv).toBeLessThan(fKEv);
      expect(fKEv).toBeLessThan(mnKaEv);
    }
  });
});

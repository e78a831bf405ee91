import { describe, expect, it } from 'vitest';
import { zOf } from '../atomic/elements.ts';
import { linesForPeak } from './match-lines.ts';

const all = new Set(Array.from({ length: 92 }, (_, i) => i + 1));
const names = (energyEv: number, beamEv: number, admitted = all): string[] =>
  linesForPeak(energyEv, 60, admitted, beamEv).map(({ symbol, line }) => `${symbol} ${line}`);

// Line energies: X-Ray Data Booklet (LBNL/PUB-490 Rev. 3, 2009), Table 1-2; edges Table 1-1.
describe('lines that could make a peak', () => {
  it('name the lines of known coincidences', () => {
    expect(names(2308, 20_000)).toEqual(expect.arrayContaining(['S K-L3', 'Mo L3-M5', 'Hg M4-N6']));
    expect(names(2345, 20_000)[0]).toBe('Pb M5-N7');
    expect(names(4510, 20_000)).toEqual(expect.arrayContaining(['Ti K-L3', 'Ba L3-M5']));
    expect(names(10_550, 20_000)).toEqual(expect.arrayContaining(['As K-L3', 'Pb L3-M5']));
  });

  it('leave out what the beam cannot excite: As K (11.867 keV) and Pb L3 (13.035 keV) edges', () => {
    expect(names(10_550, 12_500)).toContain('As K-L3');
    expect(names(10_550, 12_500)).not.toContain('Pb L3-M5');
    expect(names(10_550, 11_000)).not.toContain('As K-L3');
  });

  it('leave out elements that are not admitted', () => {
    const without = new Set([...all].filter((z) => z !== zOf('Pb')));
    expect(names(10_550, 20_000, without)).toContain('As K-L3');
    expect(names(10_550, 20_000, without).some((name) => name.startsWith('Pb'))).toBe(false);
  });

  it('tell at most eight, within the window, with distance = line - peak', () => {
    for (let energyEv = 200; energyEv < 15_000; energyEv += 137) {
      const candidates = linesForPeak(energyEv, 80, all, Infinity);
      expect(candidates.length).toBeLessThanOrEqual(8);
      for (const candidate of candidates) {
        expect(Math.abs(candidate.distanceEv)).toBeLessThanOrEqual(80);
        expect(Math.abs(candidate.energyEv - energyEv - candidate.distanceEv)).toBeLessThan(1e-9);
      }
    }
  });
});

import { describe, expect, it } from 'vitest';
import { linesNear } from '../atomic/lines.ts';
import { byExpectedStrength, expectedLines } from './expected-strength.ts';

const near = (keV: number, beamEv: number) =>
  byExpectedStrength(linesNear(keV * 1000, 60), beamEv).map(({ line: { symbol, iupac }, excited }) => ({
    name: `${symbol} ${iupac}`,
    excited,
  }));

describe('lines near an energy, by expected strength', () => {
  it('near 2.35 keV at 20 keV the main lines of sulfur, lead and mercury come before faint ones', () => {
    const first = near(2.32, 20_000)
      .slice(0, 6)
      .map(({ name }) => name);
    for (const name of ['S K-L3', 'Pb M5-N7', 'Mo L3-M5']) expect(first).toContain(name);
  });

  it('never opens with a line that the beam does not excite: near 10.55 keV at 12.5 keV arsenic comes before lead', () => {
    // Pb L3 edge 13.035 keV, As K edge 11.867 keV (X-Ray Data Booklet, Table 1-1).
    const lines = near(10.55, 12_500);
    expect(lines[0].excited).toBe(true);
    expect(lines).toContainEqual({ name: 'As K-L3', excited: true });
    const firstDark = lines.findIndex(({ excited }) => !excited);
    expect(lines.slice(firstDark).every(({ excited }) => !excited)).toBe(true);
    expect(lines.slice(firstDark).map(({ name }) => name)).toContain('Pb L3-M5');
  });

  it('is no photons where nothing is excited, and more with more overvoltage', () => {
    const iron = linesNear(6404, 5).filter(({ symbol, iupac }) => symbol === 'Fe' && iupac === 'K-L3');
    const photons = [7000, 8000, 10_000, 20_000].map((beamEv) => expectedLines(iron, beamEv)[0].photons);
    // Fe K edge 7.112 keV.
    expect(photons[0]).toBe(0);
    for (let k = 1; k < photons.length; k++) expect(photons[k]).toBeGreaterThan(photons[k - 1]);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boteSalvat } from './ionisation-parameters.ts';
import { LINE_TABLE, lineAt, linesNear, linesOf } from './lines.ts';
import { edgeEv, fluorescenceYield, SUBSHELLS } from './shells.ts';

const all = Array.from({ length: LINE_TABLE.count }, (_, index) => lineAt(index));
const named = (symbol: string, siegbahn: string) =>
  all.find((line) => line.symbol === symbol && line.siegbahn === siegbahn);

describe('line table', () => {
  it('covers Z = 3 to 95 and is ordered by z, subshell, energy', () => {
    expect(new Set(all.map(({ z }) => z))).toEqual(new Set(Array.from({ length: 93 }, (_, i) => i + 3)));
    const order = [...all].sort((a, b) => a.z - b.z || a.subshell - b.subshell || a.energyEv - b.energyEv);
    expect(all.map(({ index }) => index)).toEqual(order.map(({ index }) => index));
  });

  it('first marks the rows of each element', () => {
    for (const { z, index } of all) {
      expect(index >= LINE_TABLE.first[z] && index < LINE_TABLE.first[z + 1]).toBe(true);
    }
    expect([linesOf(1), linesOf(2), linesOf(98), linesOf(500)]).toEqual([[], [], [], []]);
    expect(linesOf(82).every(({ symbol }) => symbol === 'Pb')).toBe(true);
  });

  it('relative sums to 1 in every subshell', () => {
    const sums = new Map<string, number>();
    for (const { z, subshell, relative } of all) {
      sums.set(`${z} ${subshell}`, (sums.get(`${z} ${subshell}`) ?? 0) + relative);
    }
    for (const [place, sum] of sums) expect(Math.abs(sum - 1), place).toBeLessThan(1e-5);
  });

  it('names parse: a vacancy moves outwards from the subshell of the row', () => {
    const order = 'KLMNOPQ';
    for (const { iupac, subshell } of all) {
      const match = /^(K|[LM]\d)-([LMNOPQ])(\d(?:,\d)?)?$/.exec(iupac);
      expect(match?.[1], iupac).toBe(SUBSHELLS[subshell]);
      const [from, to] = [order.indexOf(iupac[0]), order.indexOf(match![2])];
      expect(to > from || (to === from && match![3] > match![1][1]), iupac).toBe(true);
    }
  });

  it('has each line once, each Siegbahn name once per element', () => {
    expect(new Set(all.map(({ z, iupac }) => `${z} ${iupac}`)).size).toBe(all.length);
    const siegbahn = all.filter((line) => line.siegbahn !== null).map((line) => `${line.z} ${line.siegbahn}`);
    expect(new Set(siegbahn).size).toBe(siegbahn.length);
  });

  it('no line lies above its edge by more than the tables disagree (6 eV, or 0.2 %)', () => {
    for (const line of all) {
      expect(line.energyEv, `${line.symbol} ${line.iupac}`).toBeLessThanOrEqual(
        edgeEv(line.z, line.subshell) + Math.max(6, 0.002 * line.energyEv),
      );
    }
  });

  it('every subshell with lines has a yield and ionisation parameters', () => {
    const lacking = all.filter(({ z, subshell }) => !(fluorescenceYield(z, subshell) > 0) || !boteSalvat(z, subshell));
    expect([...new Set(lacking.map(({ symbol, subshell }) => `${symbol} ${SUBSHELLS[subshell]}`))]).toEqual([]);
  });

  // Presence the work depends on; energies: X-Ray Data Booklet 1-2, intra-shell ones from level differences of its Table 1-1.
  it.each([
    ['Li', 'Kα1', 54.3],
    ['Na', 'Kβ1', 1071.1],
    ['Mg', 'Kβ1', 1302.2],
    ['Ca', 'Lα1', 341.3],
    ['Ca', 'Lβ1', 344.9],
    ['La', 'Mα1', 833],
    ['Eu', 'Mα1', 1131],
  ])('%s %s stands at %d eV', (symbol, siegbahn, ev) => {
    expect(Math.abs((named(symbol, siegbahn)?.energyEv ?? NaN) - ev)).toBeLessThan(0.5);
  });

  it('keeps M2-M4 of the heavy elements (0.79 to 0.97 keV, Ir to Pb)', () => {
    for (const symbol of ['Ir', 'Pt', 'Au', 'Hg', 'Tl', 'Pb']) {
      const line = all.find((candidate) => candidate.symbol === symbol && candidate.iupac === 'M2-M4');
      const edges = edgeEv(line!.z, 5) - edgeEv(line!.z, 7);
      expect(Math.abs(line!.energyEv - edges)).toBeLessThan(5);
      expect(line!.relative).toBeGreaterThan(0.1);
    }
  });

  it('moves M emission from Mζ to Mα as the 4f shell fills', () => {
    const alpha = (z: number) =>
      linesOf(z)
        .filter(({ iupac }) => /^M5-N[67]$/.test(iupac))
        .reduce((sum, { relative }) => sum + relative, 0);
    expect([50, 56].map(alpha)).toEqual([0, 0]);
    for (const z of [57, 58, 59, 60, 61, 62, 63]) expect(alpha(z)).toBeLessThanOrEqual(alpha(z + 1) + 1e-9);
    expect(alpha(57)).toBeGreaterThan(0.4);
    expect(alpha(82)).toBeGreaterThan(0.9);
  });
});

describe('linesNear', () => {
  it('finds exactly the lines in the window, nearest first', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 120_000, noNaN: true }),
        fc.double({ min: 0, max: 500, noNaN: true }),
        (ev, within) => {
          const found = linesNear(ev, within);
          const expected = all.filter(({ energyEv }) => energyEv >= ev - within && energyEv <= ev + within);
          expect(found.map(({ index }) => index).sort((a, b) => a - b)).toEqual(expected.map(({ index }) => index));
          const distances = found.map(({ energyEv }) => Math.abs(energyEv - ev));
          expect(distances).toEqual([...distances].sort((a, b) => a - b));
        },
      ),
      { seed: 11, numRuns: 100 },
    );
  });

  it('refuses a row outside the table', () => {
    for (const index of [-1, LINE_TABLE.count, 0.5]) expect(() => lineAt(index)).toThrow(RangeError);
  });
});

import { describe, expect, it } from 'vitest';
import { clash, type ClashPair, fwhmFromMn, overlapInflation } from './clash.ts';

const pairOf = (pairs: readonly ClashPair[], a: string, b: string) =>
  pairs.find((pair) => pair.a.line === a && pair.b.line === b)!;

// Line energies: X-Ray Data Booklet (LBNL/PUB-490 Rev. 3, 2009), Table 1-2.
describe('known coincidences at 20 keV', () => {
  it.each([
    ['S', 'K-L3', 2307.84, 'Pb', 'M5-N7', 2345.5, 'Pb', 'L3-M5', 10551.5],
    ['Hg', 'M5-N7', 2195.3, 'Pb', 'M5-N7', 2345.5, 'Hg', 'L3-M5', 9988.8],
    ['Ti', 'K-L3', 4510.84, 'Ba', 'L3-M5', 4466.26, 'Ba', 'L3-N5', 5156.5],
    ['As', 'K-L3', 10543.72, 'Pb', 'L3-M5', 10551.5, 'As', 'K-M3', 11726.2],
    ['Mn', 'K-L3', 5898.75, 'Cr', 'K-M3', 5946.71, 'Mn', 'K-M3', 6490.45],
    ['Na', 'K-L3', 1040.98, 'Zn', 'L3-M5', 1011.7, 'Zn', 'K-L3', 8638.86],
    ['K', 'K-L3', 3313.8, 'Cd', 'L2-M4', 3316.57, 'Cd', 'L3-M5', 3133.73],
    ['Al', 'K-L3', 1486.7, 'Br', 'L3-M5', 1480.43, 'Br', 'K-L3', 11924.2],
  ])('%s %s (%f eV) and %s %s (%f eV), settled by %s %s', (a, lineA, energyA, b, lineB, energyB, s, line, energy) => {
    const { pairs, settling } = clash(a, b, { fwhmMnEv: a === 'Hg' ? 200 : 130 });
    const pair = pairOf(pairs, lineA, lineB);
    expect(Math.abs(pair.a.energyEv - energyA)).toBeLessThan(0.6);
    expect(Math.abs(pair.b.energyEv - energyB)).toBeLessThan(0.6);
    expect(Math.abs(pair.separationEv - Math.abs(energyA - energyB))).toBeLessThan(1);
    const found = settling.find((entry) => entry.symbol === s && entry.line === line)!;
    expect(found.excited).toBe(true);
    expect(Math.abs(found.energyEv - energy)).toBeLessThan(1);
  });

  it('bismuth beside lead: Bi M5-N7 on Pb M4-N6, settled by the L3-M5 lines 287 eV apart', () => {
    const { pairs, settling } = clash('Bi', 'Pb');
    const pair = pairs.find(({ a, b }) => a.line === 'M5-N7' && b.line === 'M4-N6')!;
    expect(pair.separable).toBe(false);
    expect(Math.abs(pair.a.energyEv - 2422.6)).toBeLessThan(0.6);
    const named = settling.map(({ symbol, line }) => `${symbol} ${line}`);
    expect(named).toEqual(expect.arrayContaining(['Bi L3-M5', 'Pb L3-M5']));
  });

  it('sulfur beside mercury: Hg M4-N6', () => {
    const { pairs } = clash('Hg', 'S');
    expect(pairOf(pairs, 'M4-N6', 'K-L3').separationFwhm).toBeLessThan(0.4);
  });
});

// 1/sqrt(1 - exp(-D^2 / (2 sigma^2))), evaluated by hand to three figures: the Cramer-Rao bound of two lines on a dominant background.
describe('widening of the uncertainty by overlap', () => {
  it.each([
    [0.1, 6.05],
    [0.231, 2.7],
    [0.308, 2.08],
    [0.5, 1.41],
    [0.769, 1.11],
    [1, 1.03],
  ])('D/FWHM %f: %f', (separation, expected) => {
    expect(overlapInflation(separation) / expected).toBeGreaterThan(0.99);
    expect(overlapInflation(separation) / expected).toBeLessThan(1.01);
  });

  // D in eV from the X-Ray Data Booklet, Table 1-2 (Pb M4-N6 2442.7 eV: Bearden 1967, from memory). Tables differ by up to 0.6 eV,
  // and the widening goes as 1/D for close lines: hence the tolerance.
  it.each([
    ['As', 'K-L3', 'Pb', 'L3-M5', 7.8, 12.9],
    ['Bi', 'M5-N7', 'Pb', 'M4-N6', 20.1, 2.85],
    ['Mn', 'K-L3', 'Cr', 'K-M3', 48.0, 1.8],
    ['Ti', 'K-L3', 'Ba', 'L3-M5', 44.6, 1.7],
    ['S', 'K-L3', 'Pb', 'M5-N7', 37.7, 1.63],
    ['S', 'K-L3', 'Mo', 'L3-M5', 14.7, 3.7],
    ['Fe', 'K-L3', 'Mn', 'K-M3', 86.6, 1.2],
    ['Si', 'K-L3', 'Sr', 'L3-M5', 66.6, 1.09],
  ])('%s %s beside %s %s at 129 eV, D = %f eV: %f', (a, lineA, b, lineB, separationEv, expected) => {
    const { inflation, separable } = pairOf(clash(a, b, { fwhmMnEv: 129 }).pairs, lineA, lineB);
    expect(Math.abs(inflation / expected - 1)).toBeLessThan(0.6 / separationEv + 0.03);
    expect(separable).toBe(expected <= 2);
  });
});

describe('resolution from its value at manganese', () => {
  it('is that value at manganese and follows the square-root law', () => {
    expect(Math.abs(fwhmFromMn(5895, 130) - 130)).toBeLessThan(0.01);
    // FWHM^2 grows by 8 ln 2 * 0.115 * 3.66 = 2.33 eV2 per eV (common values for silicon): Cu K-L3, 8047.8 eV: 148.1.
    expect(Math.abs(fwhmFromMn(8047.8, 130) - 148.1)).toBeLessThan(1);
  });
});

describe('beam energy', () => {
  it('takes lines out of play and says what beam would bring them', () => {
    const low = clash('As', 'Pb', { beamKev: 10 });
    expect(low.pairs.some(({ a }) => a.line === 'K-L3')).toBe(false);
    const later = low.settling.filter(({ excited }) => !excited);
    // X-Ray Data Booklet Table 1-1: As K 11.8667 keV, Pb L2 15.200 keV.
    expect(later.find(({ line }) => line === 'K-M3')!.edgeKev).toBe(11.867);
    expect(later.find(({ line }) => line === 'L2-M4')!.edgeKev).toBe(15.2);
  });

  it('leaves S under Pb to lines below the L edge of lead at 10 keV', () => {
    const { settling } = clash('S', 'Pb', { beamKev: 10 });
    const now = settling.filter(({ excited }) => excited);
    expect(now.every(({ symbol, line }) => symbol === 'Pb' && line.startsWith('M'))).toBe(true);
    expect(settling.find(({ line }) => line === 'L3-M5')).toMatchObject({ excited: false, edgeKev: 13.035 });
  });
});

describe('every pair of elements', () => {
  const symbols =
    'C N O F Na Mg Al Si P S Cl K Ca Ti V Cr Mn Fe Co Ni Cu Zn As Se Br Sr Zr Mo Ag Cd Sn Sb I Ba Ce W Au Hg Tl Pb Bi U'.split(
      ' ',
    );

  it('gives pairs within one FWHM and settling lines beyond it, the same whichever is named first', () => {
    for (const a of symbols)
      for (const b of symbols.filter((symbol) => symbol > a)) {
        const { pairs, settling, beamKev } = clash(a, b);
        const turned = clash(b, a);
        expect(pairs.map(({ separationEv }) => separationEv).sort()).toEqual(
          turned.pairs.map(({ separationEv }) => separationEv).sort(),
        );
        expect(settling.length).toBe(turned.settling.length);
        for (const { separationFwhm, inflation, separable } of pairs) {
          expect(separationFwhm).toBeLessThanOrEqual(1);
          expect(separable).toBe(inflation <= 2);
        }
        for (const { excited, edgeKev } of settling) expect(edgeKev < beamKev).toBe(excited);
      }
  });
});

describe('bad input', () => {
  it.each([
    [() => clash('pb', 'S'), /'pb' is not an element symbol/],
    [() => clash('Pb', 'Pb'), /Two different elements/],
    [() => clash('H', 'Pb'), /No line of H/],
    [() => clash('Pb', 'S', { beamKev: 0 }), /beam energy is 0 keV; it must be above zero/],
    [() => clash('Pb', 'S', { fwhmMnEv: NaN }), /resolution is NaN eV/],
  ])('gets one clear error', (run, message) => {
    expect(run).toThrow(message);
  });
});

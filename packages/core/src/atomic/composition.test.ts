import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { massFractionsOf, mixture, parseFormula } from './composition.ts';
import { symbolOf, zOf } from './elements.ts';

const atoms = (formula: string) =>
  Object.fromEntries([...parseFormula(formula)].map(([z, count]) => [symbolOf(z), count]));

describe('parseFormula', () => {
  it.each([
    ['SiO2', { Si: 1, O: 2 }],
    ['2PbCO3*Pb(OH)2', { Pb: 3, C: 2, O: 8, H: 2 }],
    ['CaSO4*2H2O', { Ca: 1, S: 1, O: 6, H: 4 }],
    ['CaSO4·0.5H2O', { Ca: 1, S: 1, O: 4.5, H: 1 }],
    ['CaSO4.2H2O', { Ca: 1, S: 1, O: 6, H: 4 }],
    ['CaSO4 . 2 H2O', { Ca: 1, S: 1, O: 6, H: 4 }],
    ['MgO.Al2O3', { Mg: 1, Al: 2, O: 4 }],
    ['CaSO4·1.5H2O', { Ca: 1, S: 1, O: 5.5, H: 3 }],
    ['CaSO4.12H2O.SiO2', { Ca: 1, S: 1, O: 18, H: 24, Si: 1 }],
    ['K0.5H2O', { K: 0.5, H: 2, O: 1 }],
    ['Fe2.5O4', { Fe: 2.5, O: 4 }],
    ['Na0.5K0.5Cl', { Na: 0.5, K: 0.5, Cl: 1 }],
    ['Na.5Cl', { Na: 0.5, Cl: 1 }],
    ['(Ca5Na0.5)(Si12O36(OH)12H)', { Ca: 5, Na: 0.5, Si: 12, O: 48, H: 13 }],
    ['K4[Fe(CN)6]', { K: 4, Fe: 1, C: 6, N: 6 }],
    [' Pb O ', { Pb: 1, O: 1 }],
    ['CO', { C: 1, O: 1 }],
    ['Co', { Co: 1 }],
    ['((Pb)2)3', { Pb: 6 }],
  ])('%s', (formula, expected) => {
    expect(atoms(formula)).toEqual(expected);
  });

  it.each([
    ['', 'an element is missing at its start'],
    ['  ', 'an element is missing at its start'],
    ['Xx2', "'Xx' is not an element symbol at its start"],
    ['SiO2)', "')' is not allowed here after 'SiO2'"],
    ['Ca(OH', "')' is missing after 'Ca(OH'"],
    ['Ca(OH]2', "')' is missing after 'Ca(OH'"],
    ['Ca()2', "an element is missing after 'Ca('"],
    ['CaSO4*', "an element is missing after 'CaSO4*'"],
    ['*CaO', 'an element is missing at its start'],
    ['Pb0', 'the number 0 must be above zero and at most a million'],
    ['Pb9999999', 'at most a million'],
    ['('.repeat(100_000), 'A formula of 100000 characters'],
    ['('.repeat(500), 'an element is missing'],
    ['pbo', 'an element is missing at its start'],
    ['Pb-O', "'-' is not allowed here after 'Pb'"],
    ['Fe1.2.3', "is not allowed here after 'Fe1.2'"],
    ['Fe\u{1F642}', 'is not allowed here'],
    ['12', "an element is missing after '12'"],
  ])('%j gives one clear error', (formula, reason) => {
    expect(() => parseFormula(formula)).toThrow(SyntaxError);
    expect(() => parseFormula(formula)).toThrow(reason);
  });

  it('reads back what it is given', () => {
    const count = fc.integer({ min: 1, max: 99_999 }).map((n) => n / 100);
    const amounts = fc.uniqueArray(fc.tuple(fc.integer({ min: 1, max: 98 }), count), {
      selector: ([z]) => z,
      minLength: 1,
    });
    fc.assert(
      fc.property(amounts, (pairs) => {
        const formula = pairs.map(([z, n]) => `${symbolOf(z)}${n}`).join('');
        expect([...parseFormula(formula)]).toEqual(pairs);
        const doubled = parseFormula(`(${formula})2`);
        for (const [z, n] of pairs) expect(doubled.get(z)).toBe(2 * n);
      }),
      { seed: 13 },
    );
  });

  it('answers any text with atoms or a SyntaxError', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary' }), fc.stringMatching(/^[A-Za-z0-9()[\].*]*$/)), (text) => {
        try {
          for (const n of parseFormula(text).values()) expect(n).toBeGreaterThan(0);
        } catch (error) {
          expect(error).toBeInstanceOf(SyntaxError);
        }
      }),
      { seed: 14, numRuns: 500 },
    );
  });
});

describe('mass fractions', () => {
  // Composition of lead white and gypsum from IUPAC atomic weights, worked by hand: Pb 3 x 207.2 of 775.63; Ca 40.078 of 172.164.
  it.each([
    ['2PbCO3*Pb(OH)2', 'Pb', 0.80141],
    ['CaSO4*2H2O', 'Ca', 0.23279],
    ['SiO2', 'Si', 0.46743],
  ])('%s holds %s', (formula, symbol, fraction) => {
    expect(Math.abs(massFractionsOf(formula)[zOf(symbol)!] - fraction)).toBeLessThan(5e-5);
  });

  it('sum to 1, for a formula and for a mixture of any total', () => {
    const sum = (values: Float64Array) => values.reduce((a, b) => a + b, 0);
    expect(Math.abs(sum(massFractionsOf('Ca10(PO4)6(OH)2')) - 1)).toBeLessThan(1e-12);
    const mixed = mixture([
      { formula: 'ZnO', massFraction: 3 },
      { formula: 'BaSO4', massFraction: 1 },
    ]);
    expect(Math.abs(sum(mixed) - 1)).toBeLessThan(1e-12);
    expect(Math.abs(mixed[30] - 0.75 * massFractionsOf('ZnO')[30])).toBeLessThan(1e-12);
  });

  it('refuses negative and empty mixtures', () => {
    expect(() => mixture([{ formula: 'ZnO', massFraction: -1 }])).toThrow(/zero or more/);
    expect(() => mixture([{ formula: 'ZnO', massFraction: NaN }])).toThrow(/zero or more/);
    expect(() => mixture([])).toThrow(/at least one element/);
    expect(() => massFractionsOf(`${'('.repeat(60)}Pb${')999999'.repeat(60)}`)).toThrow(/too large/);
  });
});

import { describe, expect, it } from 'vitest';
import { inventedMaterial } from '../../../../tests/fixtures/invented-material.ts';
import { zOf } from '../atomic/elements.ts';
import { areFamily, hidesIn, hidingIn } from './family.ts';
import { LOOKALIKE_SETS, type Material } from './knowledge.ts';

const of = (copper: number, more: Partial<Material> = {}) =>
  inventedMaterial({ Cu: copper, As: 0.2, O: 0.3 }, 'Cu As', more);

describe('materials that no spectrum splits', () => {
  it('show the same elements, in ratios within a factor of 1.65', () => {
    expect(areFamily(of(0.2), of(0.2 * 1.64))).toBe(true);
    expect(areFamily(of(0.2), of(0.2 * 1.66))).toBe(false);
    expect(areFamily(of(0.2 * 1.66), of(0.2))).toBe(false);
    expect(areFamily(of(0.2), inventedMaterial({ Cu: 0.2, O: 0.3 }, 'Cu'))).toBe(false);
    expect(areFamily(inventedMaterial({ Cu: 0.2, O: 0.3 }, 'Cu'), of(0.2))).toBe(false);
  });

  it('may lie farther apart where specimens of them do: by two standard deviations of both', () => {
    const factor = 1.65 * Math.exp(2 * Math.hypot(0.3, 0.4));
    const loose = of(0.1, { spread: 0.3 });
    expect(areFamily(loose, of(0.1 * 0.99 * factor, { spread: 0.4 }))).toBe(true);
    expect(areFamily(loose, of(0.1 * 1.01 * factor, { spread: 0.4 }))).toBe(false);
  });

  it('show what they require, and what makes up more than a tenth of them; nothing lighter than fluorine', () => {
    const plain = inventedMaterial({ Cu: 0.4 }, 'Cu');
    expect(areFamily(plain, inventedMaterial({ Cu: 0.4, Zn: 0.1 }, 'Cu'))).toBe(true);
    expect(areFamily(plain, inventedMaterial({ Cu: 0.4, Zn: 0.101 }, 'Cu'))).toBe(false);
    expect(areFamily(plain, inventedMaterial({ Cu: 0.4, Zn: 0.01 }, 'Cu Zn'))).toBe(false);
    expect(areFamily(plain, inventedMaterial({ Cu: 0.4, O: 0.5, C: 0.1 }, 'Cu O C'))).toBe(true);
    const gas = inventedMaterial({ C: 0.9 }, 'C');
    expect(areFamily(gas, inventedMaterial({ C: 0.8 }, 'C'))).toBe(false);
  });

  it('of lead are not split by sulfur, which lies under its M lines', () => {
    const [white, sulfate] = [inventedMaterial({ Pb: 0.8 }, 'Pb'), inventedMaterial({ Pb: 0.7, S: 0.11 }, 'Pb S')];
    expect(areFamily(white, sulfate)).toBe(true);
    expect(areFamily(sulfate, white)).toBe(true);
    expect(areFamily(inventedMaterial({ Zn: 0.8 }, 'Zn'), inventedMaterial({ Zn: 0.7, S: 0.3 }, 'Zn S'))).toBe(false);
  });

  it('may be so by what the trade says: types of one pigment, however they differ', () => {
    const [one, other] = LOOKALIKE_SETS[0].members;
    const [lead, iron] = [inventedMaterial({ Pb: 1 }, 'Pb'), inventedMaterial({ Fe: 1 }, 'Fe')];
    const named = (from: Material, id: string, name: string, kind = 'pigment'): Material => ({
      ...from,
      id,
      name,
      class: kind,
    });
    expect(areFamily(named(lead, one, 'Earth, a'), named(iron, other, 'Earth, b'))).toBe(true);
    expect(areFamily(named(lead, one, 'Earth, a'), named(iron, other, 'Clay, b'))).toBe(false);
    expect(areFamily(named(lead, one, 'Earth, a'), named(iron, other, 'Earth, b', 'lake'))).toBe(false);
    expect(areFamily(named(lead, 'x', 'Earth, a'), named(iron, 'y', 'Earth, b'))).toBe(false);
    // With the same elements their ratios do not matter.
    expect(areFamily({ ...of(0.1), id: one }, { ...of(0.5), id: other })).toBe(true);
    expect(areFamily({ ...of(0.1), id: 'x' }, { ...of(0.5), id: 'y' })).toBe(false);
  });
});

describe('what hides beside materials', () => {
  const [quartz, glass] = [
    inventedMaterial({ Si: 0.47, O: 0.53 }, 'Si'),
    inventedMaterial({ Si: 0.3, K: 0.1, Co: 0.006, Ca: 0.005 }, 'Si K Co'),
  ];

  it('is what shows by elements of theirs alone', () => {
    const hiding = hidingIn([glass]);
    expect(hidesIn(quartz, hiding)).toBe(true);
    expect(hidesIn(of(0.2), hiding)).toBe(false);
    expect(hidesIn(inventedMaterial({ C: 0.9 }, 'C'), hiding)).toBe(false);
  });

  it('does so by half a per cent of an element, and of sulfur beside lead', () => {
    const symbols = (...all: readonly Material[]): boolean[] =>
      ['Co', 'Ca', 'S'].map((symbol) => hidingIn(all).has(zOf(symbol)!));
    expect(symbols(glass)).toEqual([true, false, false]);
    expect(symbols(inventedMaterial({ Pb: 0.8 }, 'Pb'))).toEqual([false, false, true]);
  });
});

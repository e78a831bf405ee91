import { massFractionsOf, zOf } from '@limner/core';
import { describe, expect, it } from 'vitest';
import { referenceMaterial } from './reference-material.ts';
import { Sheet, SheetError } from './sheet.ts';
import { takenAt } from './taken-at.ts';

describe('a reference material', () => {
  it('is a formula, or formulas with percentages by mass', () => {
    expect(referenceMaterial('PbCO3')).toEqual(massFractionsOf('PbCO3'));
    expect(referenceMaterial('Cu')[29]).toBe(1);
    const glass = referenceMaterial('SiO2 72.0; Na2O 14 %, CaO 9, MgO 5');
    // Na2O holds 2 x 22.990 / 61.979 = 74.19 % sodium (atomic weights: IUPAC, from memory).
    expect(glass[zOf('Na')!]).toBeCloseTo(0.14 * 0.7419, 4);
  });

  it.each([
    ['lead white', /'lead white' is not a formula with a percentage/],
    ['SiO2 72; Na2O 3', /add up to 75.0, not to 100/],
    ['PbQ3', /'Q' is not an element symbol/],
  ])('%s is told to be none', (text, why) => {
    expect(() => referenceMaterial(text)).toThrow(why);
  });

  it('is checked where the sheet states it', () => {
    const sheet = (known: string): Sheet => new Sheet(`file,sample,layer,known\nstd-1.msa,standards,,${known}\n`);
    expect(sheet('PbCO3').placeOf('std-1.msa')?.known).toBe('PbCO3');
    expect(() => sheet('PbQ3')).toThrow(SheetError);
    expect(() => sheet('PbQ3')).toThrow(/line 2: known 'PbQ3'/);
  });
});

describe('the time of a spectrum', () => {
  const header = (date: string, time: string): { header: { key: string; unit: string; value: string }[] } => ({
    header: [
      { key: 'DATE', unit: '', value: date },
      { key: 'TIME', unit: '', value: time },
    ],
  });

  it('is read off DATE and TIME', () => {
    const a = takenAt(header('03-FEB-2024', '23:50'))!;
    const b = takenAt(header('4-feb-2024', '00:10:30'))!;
    expect(b - a).toBe(20.5);
  });

  it('is not known where they are not as the standard has them', () => {
    expect(takenAt(header('2024-02-03', '23:50'))).toBeNull();
    expect(takenAt(header('03-FEB-2024', ''))).toBeNull();
  });
});

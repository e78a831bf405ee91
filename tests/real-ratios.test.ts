// Element ratios measured on real spectra of published composition (oxides by mass in truth.json), each read alone.
import { identify, type PigmentStanding, readSpectrum } from '@limner/core';
import { elementRatios } from '../packages/core/src/pigments/ratios.ts';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseFormula } from '../packages/core/src/atomic/composition.ts';
import { atomicWeight, symbolOf } from '../packages/core/src/atomic/elements.ts';
import { pigment } from './fixtures/record.ts';
import { REAL_ABSENT, realFolder } from './real-folder.ts';

const folder = realFolder();
const GLASSES = ['glass_001', 'glass_022', 'glass_058', 'glass_170'];
/** Oxides below this are at the limit of what is seen, per cent by mass. */
const LEAST_PERCENT = 0.5;
const STANDING: PigmentStanding = pigment('any', 'Any');

/** Moles of the cations of a glass per 100 g. */
function molesOf(file: string): Map<string, number> {
  const truth = JSON.parse(readFileSync(join(folder!, 'truth.json'), 'utf8')) as Record<string, { notes: string }>;
  const moles = new Map<string, number>();
  for (const [, formula, percent] of truth[file].notes.matchAll(/\b([A-Z][A-Za-z0-9]*) (\d+\.\d+)/g)) {
    if (Number(percent) < LEAST_PERCENT) continue;
    const atoms = [...parseFormula(formula)];
    const weight = atoms.reduce((sum, [z, n]) => sum + n * atomicWeight(z), 0);
    for (const [z, n] of atoms) moles.set(symbolOf(z), (moles.get(symbolOf(z)) ?? 0) + (n * Number(percent)) / weight);
  }
  moles.delete('O');
  return moles;
}

/** Deviations of ln(ratio to `per`) in standard uncertainties. */
function pullsOf(file: string, moles: ReadonlyMap<string, number>, per: string): number[] {
  const record = identify(readSpectrum(readFileSync(join(folder!, file)), { name: file }));
  const known = [...moles.keys()]
    .filter((symbol) => symbol !== per)
    .map((symbol) => ({
      ...{ id: symbol, materials: ['any'], numerator: [symbol], denominator: [per], formulas: [], low: 0, high: 1 },
      ...{ tells: '', source: [], trust: 'low' },
    }));
  const unknownWindow = record.warnings.some(({ code }) => code === 'thick-window');
  return elementRatios(record.elements, [STANDING], { known, unknownWindow }).flatMap(({ id, value }) =>
    value ? [(Math.log(value.value / (moles.get(id)! / moles.get(per)!)) * value.value) / value.sigma] : [],
  );
}

describe(folder === null ? REAL_ABSENT : 'ratios on real spectra', () => {
  it.skipIf(folder === null)('gallium to arsenic of a wafer', () => {
    const moles = new Map([
      ['Ga', 1],
      ['As', 1],
    ]);
    for (const file of ['gaas-wafer/GaAs_05kV.emsa', 'gaas-wafer/GaAs_15kV.emsa']) {
      const pulls = pullsOf(file, moles, 'As');
      expect(pulls.length).toBe(1);
      expect(Math.abs(pulls[0])).toBeLessThan(2);
    }
  });

  // Their window is far thicker than assumed, so that all err the same way: rms 2.3 standard uncertainties, and no better unless taught.
  it.skipIf(folder === null)('elements to silicon of glasses behind a thick window', () => {
    const pulls = GLASSES.flatMap((name) => {
      const file = `antwerp-glass/${name}.msa`;
      return pullsOf(file, molesOf(file), 'Si');
    });
    expect(pulls.length).toBeGreaterThan(20);
    expect(pulls.filter((pull) => Math.abs(pull) < 3).length / pulls.length).toBeGreaterThanOrEqual(0.95);
  });
});

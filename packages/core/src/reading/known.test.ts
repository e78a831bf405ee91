import { describe, expect, it } from 'vitest';
import { massFractionsOf, mixture } from '../atomic/composition.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { taughtBy, type KnownEvidence } from '../fit/reference-materials.ts';
import { simulate } from '../simulate/simulate.ts';
import { contradictionText } from '../telling/words/contradiction.ts';
import { readKnown } from './known.ts';

const CONDITIONS = { beamKev: 20, takeOffDeg: 40, totalCounts: 3e5 } as const;
const GLASS = [
  ['SiO2', 0.6],
  ['Na2O', 0.14],
  ['CaO', 0.1],
  ['MgO', 0.06],
  ['Al2O3', 0.05],
  ['K2O', 0.05],
].map(([formula, massFraction]) => ({ formula: formula as string, massFraction: massFraction as number }));

function evidenceOf(by: string, composition: Float64Array, windowUm: number, seed: number): KnownEvidence {
  const detector = { ...DEFAULT_DETECTOR, window: 'beryllium' as const, windowUm };
  const spectrum = simulate({ composition }, { ...CONDITIONS, detector, seed });
  return readKnown({ ...spectrum, source: { name: by, sha256: '' } }, composition).evidence;
}

describe('a reference material', () => {
  it('contradicts a label whose elements are not there', () => {
    const spectrum = simulate({ composition: 'PbCO3' }, { ...CONDITIONS, seed: 5 });
    expect(readKnown(spectrum, massFractionsOf('PbCO3')).contradictions).toEqual([]);
    expect(readKnown(spectrum, massFractionsOf('PbCrO4')).contradictions.join()).toMatch(/Chromium is not seen/);
    const calcium = readKnown(spectrum, massFractionsOf('CaCO3'));
    expect(calcium.contradictions.join()).toMatch(/Calcium is not seen.*Lead is present/);
    expect(calcium.evidence.amounts).toEqual([]);
    expect(calcium.evidence.ratios).toEqual([]);
  });

  it('teaches how thick a beryllium window is', () => {
    const told = taughtBy([evidenceOf('glass', mixture(GLASS), 20, 6)]).taught;
    // 20 um against the 8 um that a thick window is taken for; sodium and magnesium tell, to about 8 % of their amounts.
    expect(told.layers.windowUm).toBeGreaterThan(16);
    expect(told.layers.windowUm).toBeLessThan(24);
    expect(told.findings.find(({ quantity }) => quantity.startsWith('window'))?.by).toEqual(['glass']);
  });

  it('with a wrong label of the same elements teaches nothing, where others show it', () => {
    const right = ['glass 1', 'glass 2'].map((by, i) => evidenceOf(by, mixture(GLASS), 8, 10 + i));
    const [odd] = right.map(({ layers, ratios, amounts }) => ({
      by: 'odd',
      layers,
      ratios,
      // As if the label said a fourth of the calcium that is there.
      amounts: amounts.map((amount) =>
        amount.z === 20 ? { ...amount, logRatio: amount.logRatio + Math.log(4) } : amount,
      ),
    }));
    const { contradicted, taught } = taughtBy([...right, odd]);
    expect([...contradicted.keys()]).toEqual(['odd']);
    expect(contradicted.get('odd')?.map(contradictionText).join()).toMatch(/times as much calcium/);
    expect(taught.findings.every(({ by }) => !by.includes('odd'))).toBe(true);
  });
});

import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import { matchGrain } from '../pigments/match.ts';
import { areApart } from './apart.ts';
import { phaseQuestions } from './phase-plan.ts';

const questions = (parts: Record<string, number>) =>
  phaseQuestions(matchGrain(findingsOf({ ...parts, C18H32O2: 0.15 })).explanations);

describe('a plan for phases', () => {
  it('tells azurite from malachite by the bands that each has alone', () => {
    const [copper] = questions({ 'Cu3(CO3)2(OH)2': 0.85 });
    expect(copper.remaining.map(({ id }) => id)).toEqual(expect.arrayContaining(['azurite', 'malachite']));
    const raman = copper.proposals.find(({ technique }) => technique === 'raman')!;
    // Bands of data/pigments/optics.csv: azurite 403, malachite 433 cm-1 the strongest.
    expect(raman.look.find(({ id }) => id === 'azurite')!.shows).toContain('403');
    expect(raman.look.find(({ id }) => id === 'malachite')!.shows).toContain('433');
    expect(raman.touches).toBe(false);
  });

  it('orders by what is settled for the effort, and says what touches the sample', () => {
    for (const { proposals } of questions({ 'Cu3(CO3)2(OH)2': 0.85 })) {
      const worth = proposals.map(({ settles, effort }) => settles / effort);
      expect(worth).toEqual([...worth].sort((a, b) => b - a));
      expect(proposals.filter(({ technique }) => technique === 'microchemistry').every(({ touches }) => touches)).toBe(
        true,
      );
    }
  });

  it('asks nothing where one material is left', () => {
    expect(questions({ HgS: 0.85 }).flatMap(({ remaining }) => remaining.map(({ id }) => id))).not.toContain(
      'lead-white',
    );
    expect(phaseQuestions([])).toEqual([]);
  });
});

describe('what sets two materials apart', () => {
  it('is nothing where one is not known, nor between a material and itself', () => {
    expect(areApart('azurite', 'azurite', 'raman_cm1')).toBe(false);
    expect(areApart('azurite', 'no-such-material', 'raman_cm1')).toBe(false);
  });

  it('is a colour that they never share, or a phase', () => {
    expect(areApart('lead-white', 'red-lead', 'colour')).toBe(true);
    expect(areApart('azurite', 'malachite', 'diffraction')).toBe(true);
    expect(areApart('azurite', 'blue-verditer', 'colour')).toBe(false);
  });
});

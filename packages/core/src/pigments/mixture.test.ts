import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import { evidenceOf } from './evidence.ts';
import { MATERIALS } from './knowledge.ts';
import { fitMixture, type Mixture } from './mixture.ts';
import { partOf } from './part.ts';
import { isWorthTrying, roomOf } from './room.ts';

/** Smalt, whose many elements have the weights of a fit change all the time. */
const SMALT = { SiO2: 0.67, K2O: 0.13, CoO: 0.07, As2O3: 0.04, Fe2O3: 0.03, Al2O3: 0.02, CaO: 0.02, NiO: 0.02 };
/** A part of less says nothing. */
const SOME = 1e-3;

/** Largest relative difference of a part between two fits. */
const apart = (a: Mixture, b: Mixture): number =>
  Math.max(...a.parts.map((_, m) => (a.fractions[m] < SOME ? 0 : Math.abs(b.fractions[m] / a.fractions[m] - 1))));

it('settles: a fit that begins where another ended stays there, in 49 of 50', () => {
  const evidence = evidenceOf(findingsOf(SMALT));
  const worth = MATERIALS.filter((material) => isWorthTrying(material, roomOf(material, evidence), evidence));
  const parts = worth.map((material) => partOf(material, evidence));
  const pairs = parts.flatMap((one, i) => parts.slice(i + 1).map((other) => [one, other]));
  expect(pairs.length).toBeGreaterThan(1000);
  const moved = pairs.filter((pair) => {
    const fit = fitMixture(evidence, pair, [0.3, 0.1]);
    return apart(fit, fitMixture(evidence, pair, fit.fractions)) > 0.02;
  });
  expect(moved.length / pairs.length).toBeLessThan(0.02);
});

describe('a part that rests on open elements alone', () => {
  const [chalk, vermilion] = ['chalk', 'vermilion'].map((id) => MATERIALS.find((one) => one.id === id)!);
  /** Chalk, with mercury and sulfur that are open: they may be there, up to so much. */
  const fitted = (mercury: number) => {
    const open = (massFraction: number) => ({ verdict: 'open' as const, massFraction });
    const evidence = evidenceOf(findingsOf({ CaCO3: 0.5, C18H32O2: 0.5 }, { Hg: open(mercury), S: open(0.4) }));
    const parts = [partOf(chalk, evidence), partOf(vermilion, evidence)];
    expect(parts.map(({ restsOnOpen }) => restsOnOpen)).toEqual([false, true]);
    const fit = fitMixture(evidence, parts, [0.5, 0.002]);
    return { ...fit, mercury: fit.held[evidence.place[80]] };
  };

  it('makes up what they leave room for', () => {
    expect(fitted(0.02).mercury).toBeCloseTo(0.02, 9);
  });

  it('is no more than a fair share of the materials, three tenths', () => {
    const { fractions } = fitted(0.4);
    expect(Math.abs(fractions[1] / fractions[0] - 0.3)).toBeLessThan(0.005);
  });
});

describe('a material alone, against its own amounts', () => {
  const zinc = MATERIALS.find(({ id }) => id === 'zinc-white')!;
  const evidence = evidenceOf(findingsOf({ ZnO: 0.8, C18H32O2: 0.2 }));
  const part = partOf(zinc, evidence);

  it('is as much as there is of it, and misses nothing', () => {
    const { fractions, chi2, held } = fitMixture(evidence, [part], [0.1]);
    expect(Math.abs(fractions[0] / 0.8 - 1)).toBeLessThan(0.02);
    expect(chi2).toBeLessThan(0.1);
    expect(held[0]).toBeCloseTo(fractions[0], 12);
  });

  it('stays at a fraction that is fixed, and misses what that leaves', () => {
    const fixed = fitMixture(evidence, [part], [0.2], 0);
    expect(fixed.fractions[0]).toBeCloseTo(0.2, 12);
    expect(fixed.chi2).toBeGreaterThan(5);
    expect(fixed.lnWeight).toBeLessThan(fitMixture(evidence, [part], [0.2]).lnWeight);
  });
});

import { expect, it } from 'vitest';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import { evidenceOf } from './evidence.ts';
import { MATERIALS } from './knowledge.ts';
import { fitMixture, type Mixture } from './mixture.ts';
import { partOf } from './part.ts';
import { isWorthTrying } from './search.ts';

/** Smalt, whose many elements have the weights of a fit change all the time. */
const SMALT = { SiO2: 0.67, K2O: 0.13, CoO: 0.07, As2O3: 0.04, Fe2O3: 0.03, Al2O3: 0.02, CaO: 0.02, NiO: 0.02 };
/** A part of less says nothing. */
const SOME = 1e-3;

/** Largest relative difference of a part between two fits. */
const apart = (a: Mixture, b: Mixture): number =>
  Math.max(...a.parts.map((_, m) => (a.fractions[m] < SOME ? 0 : Math.abs(b.fractions[m] / a.fractions[m] - 1))));

it('settles: a fit that begins where another ended stays there, in 49 of 50', () => {
  const evidence = evidenceOf(findingsOf(SMALT));
  const parts = MATERIALS.map((material) => partOf(material, evidence)).filter((part) => isWorthTrying(part, evidence));
  const pairs = parts.flatMap((one, i) => parts.slice(i + 1).map((other) => [one, other]));
  expect(pairs.length).toBeGreaterThan(1000);
  const moved = pairs.filter((pair) => {
    const fit = fitMixture(evidence, pair, [0.3, 0.1]);
    return apart(fit, fitMixture(evidence, pair, fit.fractions)) > 0.02;
  });
  expect(moved.length / pairs.length).toBeLessThan(0.02);
});

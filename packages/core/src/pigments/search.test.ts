import { expect, it } from 'vitest';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import { evidenceOf } from './evidence.ts';
import { Fits } from './fits.ts';
import { MATERIALS } from './knowledge.ts';
import { partOf } from './part.ts';
import { PRIORS } from './priors.ts';
import { leastLoss } from './search.ts';

it('what is lost without a part is its likelihood, whatever a part costs', () => {
  const seen = evidenceOf(findingsOf({ ZnO: 0.5, HgS: 0.4 }));
  const [zinc, vermilion, chalk] = ['zinc-white', 'vermilion', 'chalk'].map((id) =>
    partOf(
      MATERIALS.find((one) => one.id === id)!,
      seen,
    ),
  );
  const fits = new Fits(seen);
  const both = fits.of([zinc, vermilion]);
  const losses = [zinc, vermilion].map((left) => both.lnAmounts - fits.of([left]).lnAmounts - PRIORS.part.value);
  expect(leastLoss(both, fits)).toBeCloseTo(Math.min(...losses), 9);
  expect(leastLoss(both, fits)).toBeGreaterThan(5);
  expect(leastLoss(fits.of([zinc, vermilion, chalk]), fits)).toBeLessThan(1);
  // However the parts are ordered, they are one mixture, fitted once.
  expect(fits.of([vermilion, zinc])).toBe(both);
  expect(fits.all()).toContain(both);
});

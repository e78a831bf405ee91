import { expect, it } from 'vitest';
import { hazardsOf } from './cautions.ts';
import { ELEMENT_HAZARDS } from './knowledge.ts';

type Found = Parameters<typeof hazardsOf>[0][number];
const graded = ELEMENT_HAZARDS.find(({ fromPercent }) => fromPercent > 0)!;
const found = (more: Partial<Found>): string[] =>
  hazardsOf([
    {
      ...{ symbol: graded.element, verdict: 'present', probability: 1 },
      massFraction: { value: 0.5, sigma: 0.1 },
      ...more,
    },
  ]).map(({ element }) => element);
const holding = (percent: number): string[] => found({ massFraction: { value: percent / 100, sigma: 0 } });

it('a hazard is told from the amount that counts, and where no amount is known', () => {
  for (const part of [1.01, 1]) expect(holding(part * graded.fromPercent)).toEqual([graded.element]);
  expect(holding(0.99 * graded.fromPercent)).toEqual([]);
  expect(found({ massFraction: null })).toEqual([graded.element]);
});

it('of an open element it is told where that is likelier there than not', () => {
  expect(found({ verdict: 'open', probability: 0.51 })).toEqual([graded.element]);
  expect(found({ verdict: 'open', probability: 0.5 })).toEqual([]);
  expect(found({ verdict: 'present', probability: 0.2 })).toEqual([graded.element]);
  for (const verdict of ['not-seen', 'blind'] as const) expect(found({ verdict })).toEqual([]);
});

it('what was not looked for is not told', () => {
  expect(hazardsOf([])).toEqual([]);
});

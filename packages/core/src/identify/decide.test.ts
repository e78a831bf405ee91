import { expect, it } from 'vitest';
import { committee } from './decide.ts';

it('each newcomer after the first in one element’s place must make good 8 of chi-square', () => {
  const before = { hypothesis: { members: [3, 5, 9] } };
  const cost = (...members: readonly number[]): number => committee(before, { members });
  // The element alone left out, another in its place, two, three.
  expect([cost(3, 5), cost(3, 5, 7), cost(3, 5, 7, 8), cost(1, 3, 5, 7, 8)]).toEqual([0, 0, 8, 16]);
  expect(cost()).toBe(0);
});

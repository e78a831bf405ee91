import { expect, it } from 'vitest';
import { inventedMaterial } from '../../../../tests/fixtures/invented-material.ts';
import { isTellingMaterial } from './made.ts';

it('a material tells by two thousandths of what is heavier than oxygen', () => {
  expect(isTellingMaterial(inventedMaterial({ C: 0.9979, Na: 0.0021 }, 'C'))).toBe(true);
  expect(isTellingMaterial(inventedMaterial({ C: 0.998, Na: 0.002 }, 'C'))).toBe(false);
  expect(isTellingMaterial(inventedMaterial({ C: 0.9, F: 0.001, Na: 0.0011 }, 'C'))).toBe(true);
  expect(isTellingMaterial(inventedMaterial({ C: 0.3, N: 0.2, O: 0.5 }, 'C'))).toBe(false);
});

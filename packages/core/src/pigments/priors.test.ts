import { describe, expect, it } from 'vitest';
import { zOf } from '../atomic/elements.ts';
import type { Material } from './knowledge.ts';
import { lnPriorOf, PRIORS } from './priors.ts';

const prior = (seen: string, required: string, more: Partial<Material> = {}): number => {
  const there = new Set(seen.split(' ').map((symbol) => zOf(symbol)));
  const material = { usualness: 'common', class: 'pigment', hue: 'red', required: required.split(' '), ...more };
  return lnPriorOf(material as unknown as Material, (z) => there.has(z));
};
const { part, occasional, rare, white, unseen, unproved } = PRIORS;

describe('what is thought of a material before its amounts are looked at', () => {
  it('is how usual it is, and its class', () => {
    expect(prior('Hg S', 'Hg S')).toBe(part.value);
    expect(prior('Hg S', 'Hg S', { usualness: 'occasional' })).toBe(part.value + occasional.value);
    expect(prior('Hg S', 'Hg S', { usualness: 'rare' })).toBe(part.value + rare.value);
    for (const kind of ['lake', 'filler', 'metal', 'drier', 'alteration', 'contaminant'] as const)
      expect(prior('Hg', 'Hg', { class: kind })).toBe(part.value + PRIORS[kind].value);
    expect(prior('Hg', 'Hg', { class: 'unheard of' })).toBe(part.value);
  });

  it('is more for a white pigment, and for no other white', () => {
    expect(prior('Pb', 'Pb', { hue: 'white' })).toBeCloseTo(part.value + white.value, 12);
    expect(prior('Ca', 'Ca', { hue: 'white', class: 'ground' })).toBe(part.value);
  });

  it('is less for each element that it requires and that is not seen; what does not tell is not asked', () => {
    expect(prior('Pb', 'Pb Sn')).toBeCloseTo(part.value + unseen.value, 12);
    expect(prior('Pb', 'Pb Sn Sb')).toBeCloseTo(part.value + 2 * unseen.value, 12);
    expect(prior('Pb', 'Pb C O')).toBe(part.value);
  });

  it('is far less where nothing of it is seen but what salts and medium bring as well', () => {
    expect(prior('C', 'C')).toBeCloseTo(part.value + unproved.value, 12);
    expect(prior('Cl', 'C Cl')).toBeCloseTo(part.value + unproved.value, 12);
    expect(prior('C', 'Pb')).toBeCloseTo(part.value + unproved.value + unseen.value, 12);
    expect(prior('Cl Cu', 'Cl Cu')).toBe(part.value);
  });
});

it('judgements are odds that the reasons name', () => {
  // An eighth as often, a hundredth as often: ln(1/8) and ln(1/100) to the half.
  expect(Math.abs(Math.exp(occasional.value) * 8 - 1)).toBeLessThan(0.2);
  expect(Math.abs(Math.exp(rare.value) * 100 - 1)).toBeLessThan(0.2);
  // Nitrogen comes in one grain in four.
  expect(Math.abs(Math.exp(PRIORS.nitrogenBrought.value) * 4 - 1)).toBeLessThan(0.05);
});

import { describe, expect, it } from 'vitest';
import { finding, pigment } from '../../../../tests/fixtures/record.ts';
import { massFractionsOf } from '../atomic/composition.ts';
import { zOf } from '../atomic/elements.ts';
import type { ElementFinding } from '../identify/finding.ts';
import { backscatterOf } from './backscatter-of.ts';
import { type BrightnessRange, brightnessOf, type ImageNeighbour, materialRange, orderAnswer } from './brightness.ts';

const KEV = 20;

function held(fractions: Readonly<Record<string, number>>, relative = 0.1): ElementFinding[] {
  return Object.entries(fractions).map(([symbol, value]) =>
    finding(symbol, zOf(symbol)!, 1e4, { massFraction: { value, sigma: relative * value } }),
  );
}

const CHALK = held({ Ca: 0.4, C: 0.12, O: 0.48 });
const LEAD_WHITE = held({ Pb: 0.8, C: 0.05, O: 0.15 });
const said = (order: ImageNeighbour['order'], id: string): ImageNeighbour => ({
  order,
  name: `${id}.msa`,
  backscatter: materialRange(id, KEV)!,
});

describe('backscatter of a composition', () => {
  // sqrt 20 0.4004 + sqrt 6 0.12 + sqrt 8 0.4796 = 3.4412; squared 11.84. Worked by hand for CaCO3 (Ca 40.04, C 12.00, O 47.96 %).
  it('mean atomic number of chalk by hand', () => {
    const { meanZ, coefficient } = backscatterOf(massFractionsOf('CaCO3'), KEV);
    expect(Math.abs(meanZ / 11.84 - 1)).toBeLessThan(1e-3);
    // 0.00175 11.84 + 0.37 (1 - exp(-0.015 11.84^1.3))
    expect(Math.abs(coefficient / 0.136 - 1)).toBeLessThan(5e-3);
  });

  it('of an element has no doubt by the rule for mixtures, that of heavy with light has some', () => {
    expect(backscatterOf(massFractionsOf('Au'), KEV).model).toBeLessThan(0.0111);
    expect(backscatterOf(massFractionsOf('PbCO3'), KEV).model).toBeGreaterThan(0.0111);
  });

  // Common practice, no source: the order in which paint looks bright in the backscatter image.
  it('known order: lead white, vermilion, lead-tin yellow > zinc white > chalk > resin', () => {
    const order = ['zinc-white', 'chalk', 'epoxy-resin'].map((id) => materialRange(id, KEV)!);
    for (const id of ['lead-white', 'vermilion', 'lead-tin-yellow-i'])
      expect(materialRange(id, KEV)!.high, id).toBeGreaterThan(order[0].high);
    expect(order[0].high).toBeGreaterThan(order[1].high);
    expect(order[1].high).toBeGreaterThan(order[2].high);
  });
});

describe('brightness', () => {
  it('beside the usual neighbours', () => {
    const looks = (findings: ElementFinding[]) =>
      Object.fromEntries(brightnessOf(findings, [], KEV).beside.map(({ name, looks }) => [name, looks]));
    expect(looks(CHALK)).toEqual({
      resin: 'brighter',
      chalk: 'alike',
      earth: 'alike',
      'zinc white': 'darker',
      'lead white': 'darker',
    });
    expect(looks(LEAD_WHITE)).toMatchObject({ resin: 'brighter', chalk: 'brighter', earth: 'brighter' });
    expect(looks(LEAD_WHITE)['lead white']).toBe('alike');
  });

  it('ranges from all the carbon to none of it, and takes the doubt of the amounts along', () => {
    const sure = brightnessOf(held({ Pb: 0.4, C: 0.5, O: 0.1 }, 0.01), [], KEV).identified!;
    const doubted = brightnessOf(held({ Pb: 0.4, C: 0.5, O: 0.1 }, 0.3), [], KEV).identified!;
    expect(sure.high - sure.low).toBeGreaterThan(0.1);
    expect(doubted.sigma).toBeGreaterThan(1.5 * sure.sigma);
    expect(doubted.low).toBe(sure.low);
  });

  it('leaves the coat and what is not required out', () => {
    const coat = finding('Au', 79, 1e4, { massFraction: { value: 0.2, sigma: 0.02 }, origin: 'setting' });
    const open = finding('Bi', 83, 1e4, { massFraction: { value: 0.2, sigma: 0.02 }, verdict: 'open' });
    const [alone, beside] = [CHALK, [...CHALK, coat, open]].map((all) => brightnessOf(all, [], KEV).identified!);
    expect(beside).toEqual(alone);
    expect(brightnessOf([open], [], KEV)).toMatchObject({ identified: null, beside: [], image: null });
  });

  it('an order that the image cannot have is said of candidates and composition', () => {
    const pigments = [pigment('chalk', 'Chalk'), pigment('lead-white', 'Lead white')];
    const { candidates, image } = brightnessOf(CHALK, pigments, KEV, [said('brighter-than', 'zinc-white')]);
    expect(candidates.map(({ id, image }) => [id, image])).toEqual([
      ['chalk', 'contradicts'],
      ['lead-white', 'agrees'],
    ]);
    expect(image).toBe('contradicts');
    expect(brightnessOf(CHALK, pigments, KEV, [said('darker-than', 'zinc-white')]).image).toBe('agrees');
    expect(brightnessOf(CHALK, pigments, KEV, [said('brighter-than', 'gypsum')]).image).toBe('cannot tell');
  });

  it('a material that comes with a bright one is not spoken against', () => {
    const beside = pigment('chalk', 'Chalk', { beside: ['lead-white'] });
    const { candidates } = brightnessOf(CHALK, [beside], KEV, [said('brighter-than', 'zinc-white')]);
    expect(candidates[0].image).toBe('cannot tell');
  });

  it('of two statements one that contradicts is enough; without any nothing is marked', () => {
    const both = [said('brighter-than', 'epoxy-resin'), said('brighter-than', 'lead-white')];
    expect(brightnessOf(CHALK, [pigment('chalk', 'Chalk')], KEV, both).image).toBe('contradicts');
    expect(brightnessOf(CHALK, [pigment('chalk', 'Chalk')], KEV).candidates[0].image).toBeNull();
  });

  it('needs more than the joint uncertainty', () => {
    const at = (value: number): BrightnessRange => ({ meanZ: 10, low: value, high: value, sigma: 0.01 });
    expect([0.2, 0.225, 0.24].map((value) => orderAnswer(at(value), at(0.2)))).toEqual([
      'cannot tell',
      'cannot tell',
      'agrees',
    ]);
    expect(orderAnswer(at(0.2), at(0.24))).toBe('contradicts');
  });
});

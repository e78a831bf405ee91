import { describe, expect, it } from 'vitest';
import { materialById } from '../pigments/knowledge.ts';
import { MOST_SHIFT, observationTerm } from './observation-term.ts';
import { observationsFrom, observationsIn, observationTexts, type Observations } from './observations.ts';

const parts = (mixture: Readonly<Record<string, number>>) =>
  Object.entries(mixture).map(([id, massFraction]) => ({ material: materialById(id)!, massFraction }));
const term = (mixture: Readonly<Record<string, number>>, seen: string): number =>
  observationTerm(parts(mixture), observationsFrom(seen)!);
/** Odds of the first against the second, as a factor. */
const odds = (one: Readonly<Record<string, number>>, other: Readonly<Record<string, number>>, seen: string): number =>
  Math.exp(term(one, seen) - term(other, seen));

describe('what was seen, as text', () => {
  it('is read by name, whatever the order, and written again', () => {
    const seen = observationsFrom(
      'size_um=2-10, raman_cm1=1098+403,refraction=higher,mountant=1.52,colour=blue;white',
    )!;
    expect(seen).toEqual({
      colour: ['blue', 'white'],
      size_um: { low: 2, high: 10 },
      refraction: 'higher',
      mountant: 1.52,
      raman_cm1: [403, 1098],
    });
    const texts = observationTexts(seen);
    expect(texts.map(([name, text]) => `${name}=${text}`).join(',')).toBe(
      'colour=blue+white,size_um=2 to 10,refraction=higher,mountant=1.52,raman_cm1=403+1098',
    );
    expect(observationsIn(texts)).toEqual(seen);
  });

  it('says nothing where nobody looked', () => {
    expect(observationsFrom('colour=not-looked,uv=not-looked')).toBeNull();
    expect(observationsIn([['colour', ' ']])).toBeNull();
    expect(observationsFrom('colour=not-looked,uv=none')).toEqual({ uv: ['none'] });
  });

  it.each([
    ['colour', /'colour' is not an observation; write it like colour=blue/],
    ['colour=blu', /colour: 'blu' is not one of colourless, white/],
    ['hue=blue', /'hue' is not one of colour, opacity/],
    ['colour=blue,colour=red', /given twice/],
    ['colour=blue+', /empty entry/],
    ['size_um=big', /size_um: 'big' is not a number from 0\.001/],
    ['size_um=9-2', /not a size/],
    ['raman_cm1=5', /raman_cm1: '5' is not a number from 50/],
    ['microchemistry=HNO3-boom', /HNO3-gas/],
    ['diffraction=unobtainium', /azurite/],
    ['mountant=1.66', /only with refraction/],
  ])('%s is refused', (text, message) => expect(() => observationsFrom(text)).toThrow(message));
});

describe('ln P of what was seen', () => {
  it('takes a colour for a slip in one case of twenty, all else in one of ten', () => {
    expect(odds({ azurite: 1 }, { 'lead-white': 1 }, 'colour=blue')).toBeCloseTo(19);
    expect(odds({ smalt: 1 }, { azurite: 1 }, 'isotropy=isotropic')).toBeCloseTo(9);
    expect(odds({ malachite: 1 }, { azurite: 1 }, 'raman_cm1=433')).toBeCloseTo(9);
    expect(odds({ azurite: 1 }, { smalt: 1 }, 'colour=blue,isotropy=anisotropic')).toBeCloseTo(9);
  });

  it('says nothing of a material whose row is silent, nor of none', () => {
    expect(term({ 'ion-beam-residue': 1 }, 'colour=blue,raman_cm1=403')).toBe(0);
    expect(term({}, 'colour=blue')).toBe(0);
  });

  it('moves odds by no more than e to the fourth for one property', () => {
    const all = 'raman_cm1=403+767+839+1098';
    expect(odds({ azurite: 1 }, { smalt: 1 }, all)).toBeCloseTo(Math.exp(MOST_SHIFT));
    expect(odds({ azurite: 1 }, { smalt: 1 }, `${all},colour=blue`)).toBeCloseTo(Math.exp(MOST_SHIFT));
  });

  it('lets the part that gives the colour, or any above a tenth, carry it; white never counts against', () => {
    const plain = term({ azurite: 1 }, 'colour=blue');
    expect(term({ 'lead-white': 0.95, azurite: 0.05 }, 'colour=blue')).toBeCloseTo(plain);
    expect(term({ 'yellow-ochre': 0.6, azurite: 0.15 }, 'colour=blue')).toBeCloseTo(plain);
    expect(term({ 'yellow-ochre': 0.95, azurite: 0.05 }, 'colour=blue')).toBeCloseTo(plain - Math.log(19));
    expect(term({ 'lead-white': 0.95, azurite: 0.05 }, 'colour=red')).toBeCloseTo(term({ azurite: 1 }, 'colour=red'));
    expect(term({ 'lead-white': 0.5, chalk: 0.5 }, 'colour=blue')).toBeCloseTo(plain - Math.log(19));
  });

  it('knows what two colours side by side look like', () => {
    const green = { 'lead-tin-yellow-i': 0.5, 'cobalt-blue': 0.5 };
    expect(odds(green, { 'lead-tin-yellow-i': 1 }, 'colour=green')).toBeCloseTo(10);
  });

  it('counts a colour that is not the usual one for less', () => {
    expect(odds({ malachite: 1 }, { azurite: 1 }, 'colour=green')).toBeCloseTo(0.95 / 0.5);
  });

  it('holds refraction against the mountant that was used', () => {
    expect(odds({ azurite: 1 }, { smalt: 1 }, 'refraction=higher')).toBeCloseTo(9);
    expect(odds({ azurite: 1 }, { smalt: 1 }, 'refraction=higher,mountant=1.4')).toBeCloseTo(1);
  });

  it('lets a test find any part, however small, and a row speak only of the tests it names', () => {
    const gas: Observations = { microchemistry: ['HNO3-gas'] };
    const vermilion = observationTerm(parts({ vermilion: 1 }), gas);
    expect(observationTerm(parts({ vermilion: 0.97, chalk: 0.03 }), gas) - vermilion).toBeCloseTo(Math.log(9));
    expect(term({ azurite: 1 }, 'microchemistry=water-dissolves')).toBe(0);
    expect(odds({ azurite: 1 }, { smalt: 1 }, 'microchemistry=HNO3-dissolves')).toBeCloseTo(9);
  });
});

import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { beginOf, lnCompanyOf } from './company.ts';
import type { Material } from './knowledge.ts';
import { PRIORS } from './priors.ts';

/** An invented material. */
const material = (
  kind: string,
  hue: string,
  required: string,
  formula: string,
  more: Partial<Material> = {},
): Material =>
  ({
    ...{ class: kind, hue, required: required.split(' '), fractions: massFractionsOf(formula) },
    ...{ earliest: null, firstPainting: null, latest: null },
    ...more,
  }) as unknown as Material;
const red = material('pigment', 'red', 'Hg S', 'HgS');
const white = material('pigment', 'white', 'Pb', 'PbCO3');
const chalk = material('ground', 'white', 'Ca', 'CaCO3');
const barite = material('filler', 'white', 'Ba S', 'BaSO4');
const [clay, quartz] = [
  material('filler', 'white', 'Al Si', 'Al2Si2O7'),
  material('filler', 'colourless', 'Si', 'SiO2'),
];
const hematite = material('pigment', 'red', 'Fe', 'Fe2O3');
const ochre = material('pigment', 'yellow', 'Fe Si', 'FeSiO3');
const bole = material('ground', 'red', 'Fe Si Al', 'FeSiAlO5');
const prussian = material('pigment', 'blue', 'Fe', 'Fe7C18N18');
const manganese = material('pigment', 'black', 'Mn', 'MnO2');
const lake = material('lake', 'red', 'Al', 'Al2O3');
const drier = material('drier', 'none', 'Mn', 'MnB4O7');
const salt = material('contaminant', 'white', 'Na Cl', 'NaCl');
const malachite = material('alteration', 'green', 'Cu', 'Cu2CO5');

/** ln that the company of some materials adds, as much of each unless it is said. */
const company = (...parts: readonly (Material | readonly [Material, number])[]): number =>
  lnCompanyOf(
    parts.map((part) => ({ material: 'class' in part ? part : part[0] })),
    parts.map((part) => ('class' in part ? 0.2 : part[1])),
  );
const { extended, whitened, unpainted, grownAlone } = PRIORS;

describe('what goes with what in paint', () => {
  it('a colour or a white alone says nothing, nor does nothing at all', () => {
    for (const one of [red, white, lake, chalk, barite]) expect(company(one)).toBe(0);
    expect(company()).toBe(0);
  });

  it('a colour is let down with white, once, and extended with each ground or filler', () => {
    expect(company(red, white)).toBe(whitened.value);
    expect(company(red, white, white)).toBe(whitened.value);
    expect(company(red, chalk)).toBe(extended.value);
    expect(company(red, chalk, barite)).toBeCloseTo(2 * extended.value, 12);
    expect(company(white, chalk)).toBe(extended.value);
  });

  it('grounds and fillers alone are no paint, unless it is a grain of one of them', () => {
    expect(company(chalk, barite)).toBe(unpainted.value);
    expect(company(salt, chalk)).toBe(unpainted.value);
  });

  it('what grew or fell on a paint is seldom alone', () => {
    expect(company(salt)).toBe(grownAlone.value);
    expect(company(salt, malachite)).toBe(grownAlone.value);
    expect(company(salt, red)).toBe(0);
  });

  it('a drier is a trace: more than 3 % of the materials is too much', () => {
    expect(company([red, 0.97], [drier, 0.03])).toBe(0);
    expect(company([red, 0.48], [drier, 0.015])).toBe(PRIORS.muchDrier.value);
  });
});

describe('materials that are one material together', () => {
  it('iron oxide with clay or quartz is an earth, and an earth holds its own', () => {
    expect(company(hematite, clay)).toBeCloseTo(extended.value + PRIORS.oxideWithClay.value, 12);
    expect(company(hematite, quartz)).toBeCloseTo(extended.value + PRIORS.oxideWithClay.value, 12);
    expect(company(hematite, ochre)).toBeCloseTo(PRIORS.oxideWithEarth.value, 12);
    expect(company(hematite, bole)).toBeCloseTo(extended.value + PRIORS.oxideWithEarth.value, 12);
    expect(company(ochre, clay)).toBe(extended.value);
    // Prussian blue is told by iron as well, and is no oxide.
    expect(company(prussian, clay)).toBe(extended.value);
    expect(company(prussian, ochre)).toBe(0);
    expect(company(hematite, barite)).toBe(extended.value);
  });

  it('manganese with an earth is an umber', () => {
    expect(company(manganese, ochre)).toBe(PRIORS.manganeseWithEarth.value);
    expect(company(manganese, hematite)).toBe(0);
  });

  it('alumina with silica is clay, and clay holds its own', () => {
    expect(company(lake, clay)).toBeCloseTo(extended.value + PRIORS.lakeWithClay.value, 12);
    expect(company(lake, quartz)).toBeCloseTo(extended.value + PRIORS.aluminaWithQuartz.value, 12);
    expect(company(red, quartz)).toBe(extended.value);
  });
});

describe('materials that were not in use together', () => {
  const until = (latest: number): Material => ({ ...red, latest });
  const since = (earliest: number, more: Partial<Material> = {}): Material => ({ ...prussian, earliest, ...more });

  it('cost by the years between beyond forty, to a limit', () => {
    expect(company(until(1700), since(1740))).toBe(0);
    expect(company(until(1700), since(1790))).toBeCloseTo(50 * PRIORS.apart.value, 12);
    expect(company(until(1700), since(1990))).toBe(PRIORS.mostApart.value);
    expect(company(since(1790), until(1700))).toBeCloseTo(50 * PRIORS.apart.value, 12);
    expect(company(since(1790), red)).toBe(0);
  });

  it('are dated by their use in painting, where that is known, and not by dirt or salts', () => {
    expect(beginOf(since(1704, { firstPainting: 1710 }))).toBe(1710);
    expect(beginOf(since(1704))).toBe(1704);
    expect(beginOf({ ...salt, earliest: 1900 })).toBeNull();
    expect(company(until(1700), { ...salt, earliest: 1990 })).toBe(0);
    expect(company(since(1990), { ...salt, latest: 1700 })).toBe(0);
  });
});

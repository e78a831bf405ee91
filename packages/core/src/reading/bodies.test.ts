import { describe, expect, it } from 'vitest';
import BENDS from '../../../../tests/fixtures/bends.json' with { type: 'json' };
import { massFractionsOf } from '../atomic/composition.ts';
import type { Body } from '../emission/body/body.ts';
import { simulate } from '../simulate/simulate.ts';
import { identify } from './identify.ts';

/** A layer of a substance, mass per area in g/cm2, on another. */
const film = (top: string, massThickness: number, below: string): Body => ({
  kind: 'stack',
  layers: [
    { composition: massFractionsOf(top), massThickness },
    { composition: massFractionsOf(below), massThickness: Infinity },
  ],
});

/** A grain in something else, under a thin coat of carbon. */
const grain = (inside: string, diameterUm: number, around: string): Body => ({
  kind: 'grain',
  grain: { composition: massFractionsOf(inside), densityGPerCm3: 4 },
  diameterUm,
  surrounding: { composition: massFractionsOf(around), densityGPerCm3: 2 },
  coats: [{ composition: massFractionsOf('C'), massThickness: 2e-6 }],
});

// What is thinner than the beam reaches has soft lines several times as high against the hard ones as thick matter has, and the continuum from
// below is stepped at its edges. Fluorine lies beside the L lines of manganese and iron (Bearden, Rev. Mod. Phys. 39 (1967) 78).
// Sodium in zinc oxide is hidden by Zn L; L lines of chlorine lie upon B K.
describe('a film or a small grain holds nothing but its own elements and those beneath', () => {
  it.each([
    ['MnO2 on CaSO4', film('MnO2', 4.64e-5, 'CaSO4'), 20, 2e6, 1003, ['O', 'Mn', 'S', 'Ca']],
    ['Fe2O3 on Si', film('Fe2O3', 7.7e-5, 'Si'), 25, 5e5, 1131, ['O', 'Fe', 'Si']],
    ['Fe in SnO2', grain('Fe', 0.1, 'SnO2'), 25, 2e6, 1136, ['Fe', 'Sn', 'O']],
    ['MnO2 in CaCO3', grain('MnO2', 0.45, 'CaCO3'), 25, 5e5, 2183, ['Mn', 'O', 'Ca']],
    ['NaCl on SiO2', film('NaCl', 1.2e-4, 'SiO2'), 25, 2e6, 5000, ['Na', 'Cl', 'Si', 'O']],
    ['NaCl in ZnO at 5 keV', grain('NaCl', 0.076, 'ZnO'), 5, 5e5, 4002, ['Zn', 'O', 'Cl']],
    ['ZnS on Si at 5 keV', film('ZnS', 8e-5, 'Si'), 5, 1e6, 47, ['Zn', 'S', 'Si']],
  ] as const)('%s', (_, body, beamKev, totalCounts, seed, held) => {
    // The project's simulator, bent by one standard deviation of each.
    const spectrum = simulate({ body }, { beamKev, takeOffDeg: 35, totalCounts, seed, perturb: { seed, ...BENDS } });
    const { elements, warnings } = identify(spectrum);
    const present = elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
    expect([...held, 'C']).toEqual(expect.arrayContaining(present));
    expect(present).toEqual(expect.arrayContaining([...held]));
    expect(warnings.map(({ code }) => code)).not.toContain('not-settled');
  });
});

describe('a beam energy that nothing tells', () => {
  // At 30 keV the K lines of iron and copper stand far higher over their L lines than at what is assumed, and lines hide the continuum's end.
  it.each([
    ['CuFeS2', ['Cu', 'Fe', 'S']],
    ['MoS2', ['Mo', 'S']],
  ])('leaves the elements of %s and the axis as they are', (composition, held) => {
    const channels = composition === 'MoS2' ? 2048 : 1024;
    const truth = { offsetEv: 1, gainEv: 10.02 };
    const { counts } = simulate(
      { composition },
      { beamKev: 30, takeOffDeg: 35, totalCounts: 1e6, seed: 8, channels, axis: truth },
    );
    const { elements, warnings, axis } = identify({
      ...simulate({ composition }, { beamKev: 30, totalCounts: 10, seed: 1, channels }),
      counts,
      axis: { offsetEv: 0, gainEv: 10 },
      beamKev: null,
    });
    const present = elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
    expect(present).toEqual(expect.arrayContaining(held));
    expect([...held, 'C', 'O']).toEqual(expect.arrayContaining(present));
    expect(warnings.map(({ code }) => code)).toEqual(['beam-assumed']);
    const at = (kev: number, { offsetEv, gainEv }: { offsetEv: number; gainEv: number }) =>
      offsetEv + gainEv * (kev * 100);
    const found = { offsetEv: axis.offsetEv.value, gainEv: axis.gainEv.value };
    expect(Math.abs(at(2.3, found) - at(2.3, truth))).toBeLessThan(2);
    expect(Math.abs(at(6.4, found) - at(6.4, truth))).toBeLessThan(4);
  });
});

// Ionisation cross sections against values of the authors' own routine, as distributed with the public-domain listing of the
// parameters: D. Bote, F. Salvat, A. Jablonski, C.J. Powell, At. Data Nucl. Data Tables 95 (2009) 871, erratum 97 (2011) 186.
import { describe, expect, it } from 'vitest';
import { boteSalvat } from '../../packages/core/src/atomic/ionisation-parameters.ts';
import { edgeEv, SUBSHELLS } from '../../packages/core/src/atomic/shells.ts';
import { crossSection, ionisationCrossSection } from '../../packages/core/src/emission/electrons/cross-section.ts';

const shell = (name: (typeof SUBSHELLS)[number]): number => SUBSHELLS.indexOf(name);

describe('Bote et al. 2009: values of the authors, cm2', () => {
  // 0.7 %: the parameters are printed to three digits. Our edge energies differ from the fit's own, so that is used here.
  it.each([
    [1, 'K', 687.86, 1.57729e-17],
    [12, 'L3', 77.1792, 3.85315e-18],
    [12, 'L3', 12956.9, 1.24124e-18],
    [12, 'L3', 5.78762e6, 1.30393e-19],
    [23, 'L1', 15399.3, 2.63509e-20],
    [23, 'L1', 2.90068e8, 5.64142e-21],
    [45, 'M3', 1223.21, 2.11571e-19],
    [45, 'M3', 6.68344e8, 1.62343e-20],
    [67, 'K', 163117, 1.36404e-23],
    [78, 'M5', 2985.38, 2.02808e-20],
  ] as const)('Z %i %s at %d eV', (z, name, energyEv, published) => {
    const parameters = boteSalvat(z, shell(name))!;
    expect(Math.abs(crossSection(parameters, parameters[0], energyEv) / published - 1)).toBeLessThan(0.007);
  });

  it('the two branches meet at U = 16 within 3 % (our own evaluation of all subshells)', () => {
    for (let z = 1; z <= 98; z++) {
      for (let s = 0; s < SUBSHELLS.length; s++) {
        const parameters = boteSalvat(z, s);
        if (parameters === undefined) continue;
        const edge = parameters[0];
        const step = crossSection(parameters, edge, 16 * edge * 1.00001) / crossSection(parameters, edge, 16 * edge);
        expect(Math.abs(step - 1), `z ${z}, subshell ${s}`).toBeLessThan(0.03);
      }
    }
  });
});

describe('E. Casnati, A. Tartari, C. Baraldi, J. Phys. B 15 (1982) 155: an empirical K-shell formula, Z 6 to 79, U to 20', () => {
  const casnati = (edge: number, energy: number): number => {
    const [u, rydberg, rest] = [energy / edge, 13.606, 510998.9];
    const [i, t] = [edge / rest, energy / rest];
    const d = -0.0318 + 0.316 / u - 0.1135 / u ** 2;
    const phi = 10.57 * Math.exp(-1.736 / u + 0.317 / u ** 2);
    const inner = ((i + t) * (2 + t) * (1 + i) ** 2) / (t * (2 + t) * (1 + i) ** 2 + i * (2 + i));
    const f = ((2 + i) / (2 + t)) * ((1 + t) / (1 + i)) ** 2 * inner ** 1.5;
    return 2 * 5.29177e-9 ** 2 * (rydberg / edge) ** 2 * (edge / rydberg) ** d * phi * f * (Math.log(u) / u);
  };

  // Measurements scatter by 11 % about the calculation (Llovet et al., J. Phys. Chem. Ref. Data 43 (2014) 013102); the
  // empirical formula overshoots near threshold for heavy elements, 1.29 for Ag at U = 2.
  it.each([
    [6, 2, 0.15],
    [6, 10, 0.1],
    [14, 2, 0.1],
    [14, 10, 0.1],
    [26, 2, 0.16],
    [26, 10, 0.05],
    [29, 5, 0.06],
    [47, 5, 0.15],
  ])('Z %i, U = %i', (z, u, allowed) => {
    const edge = edgeEv(z, 0);
    expect(Math.abs(casnati(edge, u * edge) / ionisationCrossSection(z, 0, u * edge) - 1)).toBeLessThan(allowed);
  });
});

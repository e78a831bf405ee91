// Conductive coats against xraylib 4.0.0 (Debian): Brunetti et al., Spectrochim. Acta B 59 (2004) 1725.
import { describe, expect, it } from 'vitest';
import { matrixAttenuation } from '../../packages/core/src/atomic/attenuation.ts';
import { massFractionsOf } from '../../packages/core/src/atomic/composition.ts';
import { LINE_TABLE, linesOf } from '../../packages/core/src/atomic/lines.ts';
import { createBodyEmission } from '../../packages/core/src/emission/body/body-emission.ts';
import { COAT_NAMES, coat } from '../../packages/core/src/emission/body/coat.ts';
import { readTable } from './fixtures/read-table.ts';

const SINE = Math.sin((40 * Math.PI) / 180);
const rows = readTable('xraylib-coats.csv').map((row) => ({
  name: COAT_NAMES.find((name) => name === row['coat'])!,
  thicknessNm: Number(row['thickness_nm']),
  photonEv: Number(row['photon_ev']),
  transmission: Number(row['transmission']),
}));

describe('what a coat lets through', () => {
  // 0.1 % of all photons: the attenuation between grid points is good to 0.5 %.
  it('is within 0.001 of the library, for four coats of 5 to 20 nm from C K to Fe K', () => {
    expect(rows).toHaveLength(4 * 3 * 10);
    for (const { name, thicknessNm, photonEv, transmission } of rows) {
      const { composition, massThickness } = coat(name, thicknessNm);
      const ours = Math.exp((-matrixAttenuation(composition, photonEv) * massThickness) / SINE);
      if (!(Math.abs(ours - transmission) < 1e-3)) expect.fail(`${name} ${thicknessNm} nm ${photonEv} eV: ${ours}`);
    }
  });

  // The rest is electrons: a metal coat turns them sideways, so that soft lines, which leave from right below it, even gain.
  // For O K of SiO2 under 10 nm of gold at 25 kV we have 8 % more than the transmission alone, our Monte Carlo calculation
  // (fixtures/monte-carlo.ts) 4 %; at 15 kV 5.5 % and 0 %; for Si K 0 % and -2 %. Under 20 nm of carbon both are within 1 %.
  it.each([
    ['carbon', 20, 0.01],
    ['gold', 10, 0.09],
    ['platinum', 10, 0.09],
    ['gold-palladium', 10, 0.09],
  ] as const)('%s of %d nm: the lines under it in a whole stack, within %d', (name, thicknessNm, allowed) => {
    const body = createBodyEmission(25_000, 40);
    for (const [formula, z, photonEv] of [
      ['SiO2', 8, 525],
      ['SiO2', 14, 1740],
      ['CaCO3', 20, 3692],
      ['Fe2O3', 26, 6404],
    ] as const) {
      const composition = massFractionsOf(formula);
      const thick = { composition, massThickness: Infinity };
      const [bare, coated] = [[thick], [coat(name, thicknessNm), thick]].map(
        (layers) => body.of({ kind: 'stack', layers }).lines,
      );
      const line = linesOf(z).find(({ iupac }) => iupac === 'K-L3')!.index;
      const row = rows.find((r) => r.name === name && r.thicknessNm === thicknessNm && r.photonEv === photonEv)!;
      expect(Math.abs(LINE_TABLE.energyEv[line] / photonEv - 1)).toBeLessThan(0.002);
      expect(Math.abs(coated[line] / bare[line] / row.transmission - 1)).toBeLessThan(allowed);
    }
  });
});

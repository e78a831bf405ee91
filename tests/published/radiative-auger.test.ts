// Radiative Auger bands. Sizes: own measurement on open spectra (November 2026): KMM of iron 1.2 ± 0.3 % of K beta, 17 steels; KLL of
// silicon 0.3 to 0.6 % of K alpha, of calcium 0.25 ± 0.15 %. Edges: X-Ray Data Booklet Table 1-1, lines Table 1-2, by hand.
import { describe, expect, it } from 'vitest';
import { LINE_TABLE, lineAt } from '../../packages/core/src/atomic/lines.ts';
import { edgeEv } from '../../packages/core/src/atomic/shells.ts';
import { RADIATIVE_AUGER, radiativeAugerOf } from '../../packages/core/src/detector/radiative-auger.ts';
import { bendShape } from '../../packages/core/src/simulate/bend-lines.ts';
import { simulate } from '@limner/core';
import { BENT } from '../statistics/grains.ts';

const indexOf = (z: number, iupac: string): number => {
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) if (lineAt(i).iupac === iupac) return i;
  throw new Error(`no ${iupac} of Z ${z}`);
};

/** Sizes of a band relative to its line, as bent physics draws them; smallest first. */
function drawn(z: number, iupac: string, name: string): number[] {
  const { fraction } = radiativeAugerOf(z, iupac).find((band) => band.name === name)!;
  const index = indexOf(z, iupac);
  const factors = Array.from({ length: 500 }, (_, seed) => bendShape({ ...BENT, seed }, index).radiativeAuger(name));
  return factors.map((factor) => fraction * factor).sort((a, b) => a - b);
}

describe('size', () => {
  // Plain simulation takes the cautious half of it, for one element was measured: the bends must reach beyond the measured interval, and
  // the measured value must lie within one standard deviation (16 to 84 %, 2 % of chance in 500 draws) of what they draw.
  it.each([
    ['KMM', 26, 'K-M3', 0.012, 0.009, 0.015],
    ['KLL', 14, 'K-L3', 0.004, 0.003, 0.006],
    ['KLL', 20, 'K-L3', 0.0025, 0.001, 0.004],
  ] as const)(
    '%s of Z %i below %s: what was measured is drawn, and so are its ends',
    (name, z, iupac, measured, least, most) => {
      const sizes = drawn(z, iupac, name);
      const share = sizes.filter((size) => size < measured).length / sizes.length;
      expect(share).toBeGreaterThan(0.14);
      expect(share).toBeLessThan(0.86);
      expect(sizes[0]).toBeLessThan(least);
      expect(sizes.at(-1)).toBeGreaterThan(most);
    },
  );

  it('a spectrum of iron holds 0.6 % of K beta at 6.94 keV, over what the line itself leaves there', () => {
    const counts = (radiativeAuger: number, seed: number): Float64Array =>
      simulate(
        { composition: 'Fe' },
        { beamKev: 20, totalCounts: 1e8, seed: null, pileUp: 0, perturb: { seed, radiativeAuger } },
      ).counts;
    // Two sizes of the band: their difference is the band alone.
    const seed = 3;
    const factor = bendShape({ seed, radiativeAuger: 1 }, indexOf(26, 'K-M3')).radiativeAuger('KMM');
    const [plain, bent] = [counts(0, seed), counts(1, seed)];
    // Both are scaled to the same total, by K alpha.
    const alpha = (values: Float64Array): number => values.subarray(620, 660).reduce((a, b) => a + b, 0);
    const scale = alpha(plain) / alpha(bent);
    let [area, moment] = [0, 0];
    plain.forEach((count, i) => {
      // Its shelf and escape peak apart.
      if (i < 650 || i > 740) return;
      const band = (bent[i] * scale - count) / (factor - 1);
      area += band;
      moment += band * 10 * i;
    });
    // K-M3 and K-M2 of iron, 7058 eV: total above a line under it.
    const beta = plain.subarray(685, 730).reduce((a, b) => a + b, 0) - 22.5 * (plain[684] + plain[730]);
    expect(Math.abs(area / beta / 0.006 - 1)).toBeLessThan(0.05);
    expect(Math.abs(moment / area - (7058 - 1.3 * 91.3))).toBeLessThan(3);
  });
});

describe('place', () => {
  // The photon has at most the energy of the line less the binding energy of the shallowest electron of the shell that leaves.
  it.each(RADIATIVE_AUGER.map((band) => [band.name, band] as const))(
    '%s: the centre lies below its threshold',
    (_, band) => {
      const shallowest = band.name === 'KLL' ? 3 : 6;
      for (let z = band.firstZ; z <= band.lastZ; z++) {
        const binding = edgeEv(z, shallowest);
        if (Number.isNaN(binding)) continue;
        expect(band.below * edgeEv(z, band.subshell), `Z ${z}`).toBeGreaterThan(binding);
      }
    },
  );
});

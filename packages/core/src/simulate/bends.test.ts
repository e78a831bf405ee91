import { describe, expect, it } from 'vitest';
import type { SimulationConditions } from './conditions.ts';
import type { Perturbation } from './perturb.ts';
import { rebin } from './rebin.ts';
import { simulate } from './simulate.ts';

const SEEDS = Array.from({ length: 12 }, (_, k) => 70 + k);
const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);

/** Expected counts, 10 eV per channel from 0 eV, no sums unless asked for. */
function expected(
  composition: string,
  perturb?: Perturbation,
  change: Partial<SimulationConditions> = {},
): Float64Array {
  const conditions = { beamKev: 20, totalCounts: 1e6, seed: null, pileUp: 0, ...change };
  return simulate({ composition }, perturb === undefined ? conditions : { ...conditions, perturb }).counts;
}

/** Area, mean and standard deviation in eV of what is above a straight line through both ends. */
function peak(counts: Float64Array, fromEv: number, toEv: number): { area: number; mean: number; sigma: number } {
  const [from, to] = [fromEv / 10, toEv / 10];
  const [left, right] = [counts[from], counts[to]];
  let [area, first, second] = [0, 0, 0];
  for (let i = from; i <= to; i++) {
    const above = counts[i] - left - ((right - left) * (i - from)) / (to - from);
    area += above;
    first += above * 10 * i;
    second += above * (10 * i) ** 2;
  }
  return { area, mean: first / area, sigma: Math.sqrt(second / area - (first / area) ** 2) };
}

describe('bends of lines', () => {
  it('each change the spectrum, the same way for the same seed', () => {
    const plain = expected('Fe2SiO4');
    const most = { mostKBetaShiftEv: 3, mostKBetaWidth: 0.03, mostSoftKBeta: 0.5, mostSatellite: 0.08 };
    const spreads = { softShiftEv: 2, softWidth: 0.03, radiativeAuger: 0.7, wiggle: 0.015 };
    for (const [name, size] of Object.entries({ ...most, ...spreads })) {
      const bent = expected('Fe2SiO4', { seed: 4, [name]: size });
      expect(bent, name).not.toEqual(plain);
      expect(expected('Fe2SiO4', { seed: 4, [name]: size }), name).toEqual(bent);
      expect(expected('Fe2SiO4', { seed: 4, [name]: 0 }), name).toEqual(plain);
    }
  });

  it('move K beta of iron down by 0 to 3 eV, and leave K alpha', () => {
    const beta = (perturb?: Perturbation): number => peak(expected('Fe', perturb), 6750, 7360).mean;
    const alpha = (perturb?: Perturbation): number => peak(expected('Fe', perturb), 6250, 6550).mean;
    const moves = SEEDS.map((seed) => beta({ seed, mostKBetaShiftEv: 3 }) - beta());
    for (const move of moves) expect(move).toBeLessThan(0.01);
    expect(Math.min(...moves)).toBeGreaterThan(-3.01);
    expect(Math.min(...moves)).toBeLessThan(-2);
    expect(Math.abs(alpha({ seed: 70, mostKBetaShiftEv: 3 }) - alpha())).toBeLessThan(1e-3);
  });

  it('widen K beta of iron by 0 to 3 %', () => {
    const sigma = (perturb?: Perturbation): number => peak(expected('Fe', perturb), 6750, 7360).sigma;
    const wider = SEEDS.map((seed) => sigma({ seed, mostKBetaWidth: 0.03 }) / sigma() - 1);
    expect(Math.min(...wider)).toBeGreaterThan(0);
    expect(Math.max(...wider)).toBeLessThan(0.031);
    expect(Math.max(...wider)).toBeGreaterThan(0.015);
  });

  it('make K beta of silicon stronger by 20 to 50 %, that of iron not', () => {
    // The line lies on the flank of K alpha: what is added there is K beta alone.
    const [plain, ...bent] = [undefined, ...SEEDS].map((seed) =>
      expected('Si', seed === undefined ? undefined : { seed, mostSoftKBeta: 0.5 }, { detectorSilicon: 0 } as object),
    );
    const alpha = (counts: Float64Array): number => sum(counts.subarray(165, 178));
    const added = bent.map((counts) => {
      const scale = alpha(plain) / alpha(counts);
      return sum(counts.subarray(178, 195)) * scale - sum(plain.subarray(178, 195));
    });
    const strongest = Math.max(...added);
    expect(Math.min(...added) / strongest).toBeGreaterThan(0.2 / 0.5);
    expect(Math.min(...added) / strongest).toBeLessThan(0.6);
    expect(expected('Fe', { seed: 70, mostSoftKBeta: 0.5 })).toEqual(expected('Fe'));
  });

  it('move and widen the families below 1 keV only', () => {
    const [plain, bent] = [undefined, { seed: 71, softShiftEv: 2, softWidth: 0.05 }].map((p) => expected('Fe2O3', p));
    const oxygen = (counts: Float64Array): number => peak(counts, 450, 600).mean;
    expect(Math.abs(oxygen(bent) - oxygen(plain))).toBeGreaterThan(0.1);
    expect(Math.abs(peak(bent, 6200, 6600).mean - peak(plain, 6200, 6600).mean)).toBeLessThan(1e-3);
  });

  it('put parts of K alpha into satellites above it', () => {
    const mean = (perturb?: Perturbation): number => peak(expected('Mg', perturb), 1050, 1450).mean;
    const moves = SEEDS.map((seed) => mean({ seed, mostSatellite: 0.08 }) - mean());
    // Mg: 8 % at 9.5 eV and 3 % at 21.7 eV move the mean by 1.4 eV.
    expect(Math.min(...moves)).toBeGreaterThan(0);
    expect(Math.max(...moves)).toBeLessThan(1.42);
    expect(Math.max(...moves)).toBeGreaterThan(0.7);
  });
});

describe('other bends', () => {
  it('let the continuum wiggle by their size, and no line', () => {
    const sizes = SEEDS.flatMap((seed) => {
      const [plain, bent] = [expected('C'), expected('C', { seed, wiggle: 0.02 })];
      return [300, 350, 400, 450, 500, 550, 600, 650].map((i) => Math.log(bent[i] / plain[i]));
    });
    const rms = Math.sqrt(sizes.reduce((a, x) => a + x * x, 0) / sizes.length);
    expect(rms).toBeGreaterThan(0.012);
    expect(rms).toBeLessThan(0.03);
  });

  it('add Al K and Si K counts of the detector up to the given part of the counts above their edges', () => {
    const plain = expected('Fe');
    for (const [name, from, most, edge] of [
      ['mostDetectorAluminium', 1400, 5e-4, 156],
      ['mostDetectorSilicon', 1650, 1.5e-3, 184],
    ] as const) {
      const parts = SEEDS.map((seed) => {
        const counts = expected('Fe', { seed, [name]: most });
        const scale = sum(plain.subarray(edge + 30)) / sum(counts.subarray(edge + 30));
        const added = counts.map((count, i) => count * scale - plain[i]);
        return sum(added.subarray(from / 10 - 5, from / 10 + 23)) / sum(plain.subarray(edge));
      });
      expect(Math.min(...parts), name).toBeGreaterThanOrEqual(0);
      expect(Math.max(...parts), name).toBeLessThan(most * 1.01);
      expect(Math.max(...parts), name).toBeGreaterThan(most / 2);
    }
  });

  it('phases: unlike pairs grow rarer, like pairs more frequent, and no photon gets lost', () => {
    const change = { pileUp: 0.05 };
    const plain = expected('CaSi', undefined, change);
    const changes = SEEDS.map((seed) => {
      const bent = expected('CaSi', { seed, phases: 4 }, change);
      expect(Math.abs(sum(bent) / 1e6 - 1)).toBeLessThan(1e-7);
      const [like, unlike] = [7386, 5433].map(
        (ev) => peak(bent, Math.round(ev / 10) * 10 - 150, Math.round(ev / 10) * 10 + 150).area,
      );
      const [likeBefore, unlikeBefore] = [7386, 5433].map(
        (ev) => peak(plain, Math.round(ev / 10) * 10 - 150, Math.round(ev / 10) * 10 + 150).area,
      );
      return { like: like / likeBefore, ratio: unlike / like / (unlikeBefore / likeBefore) };
    });
    for (const { like } of changes) expect(like).toBeGreaterThan(0.97);
    // Measured over a map of two phases: Ca + Si at 1.3e-3 against Ca + Ca at 6.0e-3, a ratio of 0.22.
    expect(Math.min(...changes.map(({ ratio }) => ratio))).toBeLessThan(0.22);
  });

  it('sums lie up to the given shift above the sum of energies', () => {
    const mean = (perturb?: Perturbation): number => peak(expected('Si', perturb, { pileUp: 0.05 }), 3150, 3900).mean;
    const moves = SEEDS.map((seed) => mean({ seed, mostSumShiftEv: 9 }) - mean());
    expect(Math.min(...moves)).toBeGreaterThan(-0.1);
    expect(Math.max(...moves)).toBeLessThan(9.1);
    expect(Math.max(...moves)).toBeGreaterThan(4);
  });
});

describe('counts shared out over another axis', () => {
  const counted = { countedOn: { offsetEv: -100, gainEv: 10 }, axis: { offsetEv: 0, gainEv: 11.3 }, channels: 1700 };

  it('keeps counts and energies', () => {
    const counts = Float64Array.from({ length: 300 }, (_, i) => (i === 150 ? 1000 : 0));
    const out = rebin(counts, { offsetEv: 3, gainEv: 10 }, { offsetEv: 0, gainEv: 7.5 }, 400, false);
    expect(Math.abs(sum(out) - 1000)).toBeLessThan(1e-9);
    const mean = out.reduce((a, count, i) => a + count * 7.5 * i, 0) / 1000;
    expect(Math.abs(mean - 1503)).toBeLessThan(7.5 / 2);
  });

  it('gives whole counts that scatter less than Poisson counts, about the same expectation', () => {
    const conditions = { beamKev: 20, totalCounts: 1e6, ...counted };
    const expectation = simulate({ composition: 'CaSO4' }, { ...conditions, seed: null }).counts;
    const spectrum = simulate({ composition: 'CaSO4' }, { ...conditions, seed: 5 });
    expect(spectrum.axis).toEqual(counted.axis);
    expect(spectrum.counts.length).toBe(1700);
    expect(spectrum.counts.every(Number.isInteger)).toBe(true);
    let [chi2, n] = [0, 0];
    expectation.forEach((mean, i) => {
      if (mean < 50) return;
      chi2 += (spectrum.counts[i] - mean) ** 2 / mean;
      n++;
    });
    // Two parts f and 1 - f of neighbours: variance f2 + (1 - f)2 of Poisson's.
    expect(chi2 / n).toBeLessThan(0.85);
    expect(chi2 / n).toBeGreaterThan(0.5);
  });

  it('refuses an axis that makes no sense', () => {
    const wrong = { beamKev: 20, totalCounts: 1e4, seed: 1, countedOn: { offsetEv: 0, gainEv: 0 } };
    expect(() => simulate({ composition: 'Fe' }, wrong)).toThrow(/Gain/);
    const fine = { ...wrong, countedOn: { offsetEv: 0, gainEv: 0.1 } };
    expect(() => simulate({ composition: 'Fe' }, fine)).toThrow(/Channels of the axis counted on/);
  });
});

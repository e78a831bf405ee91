import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { massFractionsOf, mixture } from '../atomic/composition.ts';
import { DEFAULT_DEAD_TIME_S } from '../detector/dead-time.ts';
import { DEFAULT_DETECTOR, type Detector } from '../detector/detector.ts';
import { DEFAULT_PILE_UP } from '../detector/pile-up.ts';
import { DETECTORS } from '../detector/presets.ts';
import { coat } from '../emission/body/coat.ts';
import { readSpectrum } from '../spectrum/read.ts';
import { writeEmsa } from '../spectrum/write.ts';
import { addShelf } from './shelf.ts';
import type { SimulationConditions } from './conditions.ts';
import { ORIGIN_KEY } from './origin.ts';
import { simulate } from './simulate.ts';
import type { Specimen } from './specimen.ts';

const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);
const CONDITIONS: SimulationConditions = { beamKev: 20, totalCounts: 2e5, seed: 11 };
const CHALK = massFractionsOf('CaCO3');
const AXIS = { offsetEv: -95, gainEv: 10 };

describe('simulate', () => {
  it('gives the same counts for the same seed and others for another', () => {
    const [a, b, c] = [11, 11, 12].map((seed) => simulate({ composition: 'PbO' }, { ...CONDITIONS, seed }).counts);
    expect(a).toEqual(b);
    expect(a).not.toEqual(c);
    expect(a.every((count) => Number.isInteger(count) && count >= 0)).toBe(true);
  });

  it('without a seed gives the expectation: the total asked for, and noise of the right size around it', () => {
    const expected = simulate({ composition: 'PbO' }, { ...CONDITIONS, seed: null }).counts;
    expect(Math.abs(sum(expected) - 2e5)).toBeLessThan(0.01);
    const { counts } = simulate({ composition: 'PbO' }, CONDITIONS);
    let [chi2, n] = [0, 0];
    counts.forEach((count, i) => {
      if (expected[i] < 5) return;
      chi2 += (count - expected[i]) ** 2 / expected[i];
      n++;
    });
    expect(Math.abs(chi2 - n)).toBeLessThan(5 * Math.sqrt(2 * n));
  });

  it('takes formula, mass fractions and mixture alike', () => {
    const fractions = massFractionsOf('HgS');
    const forms = ['HgS', fractions, [{ formula: 'HgS', massFraction: 3 }]] as const;
    const [a, b, c] = forms.map((composition) => simulate({ composition }, CONDITIONS).counts);
    expect(b).toEqual(a);
    expect(c).toEqual(a);
  });

  it('says in title and header that nothing was measured', () => {
    const { title, header } = simulate({ composition: 'HgS', title: 'red grain' }, CONDITIONS);
    expect(title).toBe('SIMULATED red grain');
    expect(header.find(({ key }) => key === ORIGIN_KEY)?.value).toBe('simulated');
  });

  it('counts in proportion to live time, current and solid angle', () => {
    const dose = { liveTimeS: 50, probeCurrentNa: 0.5, solidAngleSr: 0.01 };
    const conditions = (change: Partial<typeof dose>): SimulationConditions => ({
      beamKev: 15,
      seed: null,
      pileUp: 0,
      ...dose,
      ...change,
    });
    const total = (change: Partial<typeof dose>): number =>
      sum(simulate({ composition: 'SiO2' }, conditions(change)).counts);
    for (const change of [{ liveTimeS: 100 }, { probeCurrentNa: 1 }, { solidAngleSr: 0.02 }]) {
      expect(Math.abs(total(change) / total({}) - 2)).toBeLessThan(1e-8);
    }
  });

  it('has peaks where the lines are and nothing beyond the beam energy but sums', () => {
    const { counts } = simulate({ composition: 'Fe' }, { ...CONDITIONS, seed: null, pileUp: 0, totalCounts: 1e6 });
    expect(
      Math.abs(counts.subarray(500).reduce((at, c, i, all) => (c > all[at] ? i : at), 0) + 500 - 640),
    ).toBeLessThanOrEqual(1);
    expect(sum(counts.subarray(2020))).toBeLessThan(1);
    const withSums = simulate(
      { composition: 'Fe' },
      { ...CONDITIONS, seed: null, pileUp: 0.02, totalCounts: 1e6 },
    ).counts;
    // The K-alpha sum peak at 12.8 keV.
    expect(withSums[1281] - counts[1281]).toBeGreaterThan(3 * (withSums[1240] - counts[1240]));
  });

  it('keeps the total asked for, whatever the body, axis or electronics', () => {
    const bodies: Specimen[] = [
      { composition: 'HgS' },
      { body: { kind: 'stack', layers: [coat('gold', 10), { composition: CHALK, massThickness: Infinity }] } },
    ];
    const changes: Partial<SimulationConditions>[] = [
      {},
      { liveTimeS: 20 },
      { pileUp: 0.2 },
      { channels: 300, axis: { offsetEv: -500, gainEv: 37 } },
      { axis: { offsetEv: 600, gainEv: 10 } },
      { beamKev: 1.5, channels: 256 },
    ];
    for (const specimen of bodies) {
      for (const change of changes) {
        const { counts } = simulate(specimen, { ...CONDITIONS, seed: null, ...change });
        expect(Math.abs(sum(counts) / 2e5 - 1), JSON.stringify(change)).toBeLessThan(1e-7);
      }
    }
  });

  it('is the same whatever was simulated before', () => {
    const conditions = { ...CONDITIONS, seed: null };
    const fresh = simulate({ composition: 'PbSnO3' }, conditions).counts;
    for (const beamKev of [5, 8, 11, 14, 17])
      simulate({ composition: 'KFe' }, { ...conditions, beamKev, channels: 99 });
    for (const noiseEv of [30, 40, 60, 70, 80])
      simulate({ composition: 'PbFe' }, { ...conditions, detector: { ...DEFAULT_DETECTOR, noiseEv } });
    expect(simulate({ composition: 'PbSnO3' }, conditions).counts).toEqual(fresh);
  });

  it('draws each channel after Poisson, each seed for itself', () => {
    const draws = 400;
    const small = { ...CONDITIONS, totalCounts: 3000, channels: 256, axis: { offsetEv: 0, gainEv: 40 } };
    const expected = simulate({ composition: 'CaSO4' }, { ...small, seed: null }).counts;
    const drawn = Array.from(
      { length: draws },
      (_, seed) => simulate({ composition: 'CaSO4' }, { ...small, seed }).counts,
    );
    let [dispersion, product, n] = [0, 0, 0];
    expected.forEach((mean, i) => {
      if (mean < 2) return;
      const off = drawn.map((counts) => (counts[i] - mean) / Math.sqrt(mean));
      dispersion += off.reduce((a, b) => a + b * b, 0) / draws;
      // Neighbouring seeds, and neighbouring channels of one seed.
      for (let k = 1; k < draws; k++) product += off[k] * off[k - 1];
      n++;
    });
    expect(n).toBeGreaterThan(60);
    expect(Math.abs(dispersion / n - 1)).toBeLessThan(5 * Math.sqrt(2.5 / (n * draws)));
    expect(Math.abs(product / (n * (draws - 1)))).toBeLessThan(5 / Math.sqrt(n * (draws - 1)));
  });

  it('shows a coat by its lines and by what it takes from soft ones', () => {
    const conditions = { ...CONDITIONS, seed: null, pileUp: 0 };
    const bare = simulate({ composition: CHALK }, conditions).counts;
    const layers = [coat('gold', 20), { composition: CHALK, massThickness: Infinity }];
    const coated = simulate({ body: { kind: 'stack', layers } }, conditions).counts;
    expect(coated[212]).toBeGreaterThan(2 * bare[212]);
    expect(coated[52] / coated[369]).toBeLessThan(0.9 * (bare[52] / bare[369]));
    const none = [coat('gold', 0), { composition: CHALK, massThickness: Infinity }];
    const uncoated = simulate({ body: { kind: 'stack', layers: none } }, conditions).counts;
    bare.forEach((count, i) => expect(Math.abs(uncoated[i] - count)).toBeLessThan(1e-3 * count + 1e-3));
  });

  it("adds the detector's own silicon, and the satellite below a K line", () => {
    // A crystal without a dead layer, behind a window without silicon, shines nowhere.
    const still: Detector = { ...DETECTORS['drift-open'], deadLayerUm: 0 };
    const conditions = { ...CONDITIONS, seed: null, totalCounts: 1e6, pileUp: 0 };
    const peak = (detector: Detector): number => {
      const { counts } = simulate({ composition: 'Fe' }, { ...conditions, detector });
      return sum(counts.subarray(168, 181)) - sum(counts.subarray(155, 168)) / 2 - sum(counts.subarray(181, 194)) / 2;
    };
    expect(peak({ ...still, deadLayerUm: 0.2 }) - peak(still)).toBeGreaterThan(100);
    const { counts } = simulate({ composition: 'Si' }, conditions);
    const from = (ev: number, to: number): number => sum(counts.subarray(ev / 10, to / 10));
    expect(from(1500, 1600) / from(1650, 1830)).toBeGreaterThan(0.001);
  });

  it('gives real time by the dead time, and refuses rates that nothing can tell apart', () => {
    const dose = { beamKev: 20, seed: null, liveTimeS: 10, solidAngleSr: 0.01 };
    const { counts, realTimeS } = simulate({ composition: 'Fe' }, { ...dose, probeCurrentNa: 0.5 });
    const perS = sum(counts) / 10;
    expect(Math.abs(realTimeS! / (10 * Math.exp(perS * DEFAULT_DEAD_TIME_S)) - 1)).toBeLessThan(0.01);
    expect(() => simulate({ composition: 'Fe' }, { ...dose, probeCurrentNa: 500 })).toThrow(/photons per second/);
  });

  it('says in the header what it takes to repeat it, and keeps it through the format', () => {
    const spectrum = simulate(
      { composition: 'HgS' },
      { ...CONDITIONS, solidAngleSr: 0.02, perturb: { seed: 3, gain: 0.001 } },
    );
    const said = (key: string): string | undefined => spectrum.header.find((entry) => entry.key === key)?.value;
    expect(said('##LIMNER-SEED')).toBe('11');
    expect(said('##LIMNER-BODY')).toMatch(/^thick, S 0\.13\d+ Hg 0\.86\d+$/);
    expect(said('##LIMNER-DETECTOR')).toContain('window=polymer windowUm=0.3 ');
    expect(said('##LIMNER-PERTURBED')).toBe('seed=3 gain=0.001');
    expect(said('##LIMNER-MADE-BY')).toMatch(/^@limner\/core \d+\.\d+\.\d+, tables \S+$/);
    const again = readSpectrum(new TextEncoder().encode(writeEmsa(spectrum)));
    expect(again.warnings).toEqual([]);
    expect(again.counts).toEqual(spectrum.counts);
    expect(again.axis).toEqual(spectrum.axis);
    expect(again.detector).toEqual(spectrum.detector);
    for (const entry of spectrum.header) expect(again.header).toContainEqual(entry);
  });

  it('puts a zero peak at 0 eV when asked', () => {
    const axis = { offsetEv: -200, gainEv: 10 };
    const without = simulate({ composition: 'SiO2' }, { ...CONDITIONS, seed: null, axis }).counts;
    const peak = simulate({ composition: 'SiO2' }, { ...CONDITIONS, seed: null, axis, zeroPeakCounts: 5e4 }).counts;
    const added = peak.map((count, i) => count - without[i]);
    expect(Math.abs(sum(added) - 5e4)).toBeLessThan(1);
    expect(added.indexOf(Math.max(...added))).toBe(20);
  });

  it('bends the physics only where asked, the same way for the same seed', () => {
    const plain = simulate({ composition: 'ZnO' }, { ...CONDITIONS, seed: null }).counts;
    const bent = (perturb: SimulationConditions['perturb'] & object): Float64Array =>
      simulate({ composition: 'ZnO' }, { ...CONDITIONS, seed: null, perturb }).counts;
    expect(bent({ seed: 4 })).toEqual(plain);
    expect(bent({ seed: 4, family: 0.2 })).toEqual(bent({ seed: 4, family: 0.2 }));
    const kinds = [
      'lineRatio',
      'family',
      'attenuation',
      'continuum',
      'noise',
      'tail',
      'window',
      'gain',
      'offsetEv',
    ] as const;
    for (const kind of kinds) expect(bent({ seed: 4, [kind]: 0.1 }), kind).not.toEqual(plain);
  });

  it('names the condition that makes no sense', () => {
    const wrong: [Partial<SimulationConditions>, RegExp][] = [
      [{ beamKev: 0 }, /Beam energy/],
      [{ beamKev: NaN }, /Beam energy/],
      [{ takeOffDeg: 100 }, /Take-off/],
      [{ channels: 2 }, /Channels/],
      [{ channels: 100.5 }, /Channels/],
      [{ axis: { offsetEv: 0, gainEv: 0 } }, /Gain/],
      [{ totalCounts: -1 }, /Total counts/],
      [{ seed: 0.5 }, /seed/],
      [{ pileUp: 0.5 }, /Pile-up/],
      [{ pileUp: DEFAULT_PILE_UP }, /liveTimeS/],
      [{ pileUp: { ...DEFAULT_PILE_UP, blindTimeS: -1 }, liveTimeS: 1 }, /Blind time/],
      [{ liveTimeS: -1 }, /Live time/],
      [{ detector: { ...DEFAULT_DETECTOR, noiseEv: NaN } }, /detector's noiseEv/],
      [{ detector: { ...DEFAULT_DETECTOR, thicknessMm: 0 } }, /detector's thicknessMm/],
      [{ detector: { ...DEFAULT_DETECTOR, shelf: 1.5 } }, /detector's shelf/],
    ];
    for (const [change, message] of wrong) {
      expect(() => simulate({ composition: 'Fe' }, { ...CONDITIONS, ...change })).toThrow(message);
    }
    expect(() => simulate({ composition: 'Fe' }, { beamKev: 20, seed: 1, liveTimeS: 10 })).toThrow(/totalCounts/);
    expect(() => simulate({ composition: 'Xx' }, CONDITIONS)).toThrow(SyntaxError);
    expect(() => simulate({ composition: new Float64Array(99) }, CONDITIONS)).toThrow(RangeError);
  });

  it('answers any sound composition with finite counts', () => {
    const element = fc.constantFrom(
      'C',
      'O',
      'Na',
      'Al',
      'S',
      'Ca',
      'Fe',
      'Cu',
      'As',
      'Ag',
      'Sn',
      'Ba',
      'Hg',
      'Pb',
      'Bi',
    );
    const part = fc.record({ formula: element, massFraction: fc.double({ min: 0.01, max: 1, noNaN: true }) });
    fc.assert(
      fc.property(
        fc.array(part, { minLength: 1, maxLength: 6 }),
        fc.constantFrom(3, 5, 12, 20, 30),
        (parts, beamKev) => {
          const { counts } = simulate(
            { composition: mixture(parts) },
            { beamKev, totalCounts: 1e4, seed: null, channels: 512 },
          );
          return counts.every((count) => Number.isFinite(count) && count >= 0);
        },
      ),
      { seed: 8, numRuns: 25 },
    );
  });
});

describe('artefacts', () => {
  const line = Float64Array.from({ length: 400 }, (_, i) => (i === 150 ? 1000 : i === 200 ? 500 : 0));

  it('shelf keeps the counts and lies flat from 0 eV up to them', () => {
    const out = addShelf(line, AXIS, 0.02);
    expect(Math.abs(sum(out) - 1500)).toBeLessThan(1e-9);
    expect(out[100]).toBeCloseTo(out[20], 12);
    expect(out.subarray(0, 9).every((value) => value === 0)).toBe(true);
    expect(out[300]).toBe(0);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { massFractionsOf, mixture } from '../atomic/composition.ts';
import { addShelf } from './shelf.ts';
import type { SimulationConditions } from './conditions.ts';
import { ORIGIN_KEY } from './origin.ts';
import { simulate } from './simulate.ts';

const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);
const CONDITIONS: SimulationConditions = { beamKev: 20, totalCounts: 2e5, seed: 11 };
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

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { selfConvolution, shelfColumn } from './coincidence.ts';
import { spreadOut } from './column.ts';

const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);
const mean = (values: Float64Array): number => values.reduce((sum, value, i) => sum + i * value, 0) / total(values);

function peakAt(centre: number, area: number, n: number): Float64Array {
  const values = Float64Array.from({ length: n }, (_, i) => Math.exp(-0.5 * ((i - centre) / 4) ** 2));
  const norm = area / total(values);
  return values.map((value) => value * norm);
}

describe('self-convolution', () => {
  it('of one peak: all counts, at twice its energy, whatever the fraction of the zero channel', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 150, max: 400, noNaN: true }),
        fc.double({ min: -40, max: 40, noNaN: true }),
        (centre, zeroChannel) => {
          const sums = selfConvolution(peakAt(centre, 5000, 1024), 50, zeroChannel);
          expect(Math.abs(total(sums) / 5000 - 1)).toBeLessThan(1e-6);
          // Energies add: (at - zero) = 2 (centre - zero).
          expect(Math.abs(mean(sums) - (2 * centre - zeroChannel))).toBeLessThan(0.01);
        },
      ),
      { seed: 5, numRuns: 50 },
    );
  });

  it('of two peaks: the sum peak of unlike photons is twice the geometric mean of the like ones', () => {
    const model = peakAt(200, 3000, 1024).map((value, i) => value + peakAt(300, 1000, 1024)[i]);
    const sums = selfConvolution(model, 0, 0);
    const around = (centre: number): number => total(sums.slice(centre - 40, centre + 41));
    expect(Math.abs(around(500) / (2 * Math.sqrt(around(400) * around(600))) - 1)).toBeLessThan(1e-6);
  });

  it('of nothing is nothing', () => {
    expect(total(selfConvolution(new Float64Array(64), 0, 0))).toBe(0);
  });
});

describe('shelf', () => {
  it('spreads each count evenly from zero energy to its own', () => {
    const model = new Float64Array(512);
    model[400] = 1000;
    const values = spreadOut(shelfColumn(model, 0, 512, 0), model.length);
    expect(values[1]).toBe(values[399]);
    expect(Math.abs(values[200] / (1000 / 400) - 1)).toBeLessThan(1e-12);
    expect(values[401]).toBe(0);
    // 401 channels, 0 to 400, share what fits between 0 and 400.
    expect(Math.abs(total(values) / 1000 - 1)).toBeLessThan(1 / 300);
  });

  it('adds up over a spectrum: falling, all counts within 1 % where the range starts at zero', () => {
    const model = Float64Array.from({ length: 512 }, (_, i) => (i < 100 ? 0 : 1e4 / i));
    const values = spreadOut(shelfColumn(model, 0, 512, 0.4), model.length);
    for (let i = 1; i < 512; i++) expect(values[i]).toBeLessThanOrEqual(values[i - 1]);
    expect(Math.abs(total(values) / total(model) - 1)).toBeLessThan(0.01);
  });
});

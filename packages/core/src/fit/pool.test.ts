import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomStream } from '../simulate/random.ts';
import { pool, type PoolStart, type Said } from './pool.ts';

const ONE: PoolStart = { mean: [0], sigma: [1000], driftSigma: [0], scatter: [1], leastScatter: [1e-3] };

/** A measured value of one quantity. */
function measured(value: number, sigma: number, time = 0): Said {
  const information = 1 / sigma ** 2;
  return { information: Float64Array.of(information), vector: Float64Array.of(information * value), time };
}

describe('values common to a session', () => {
  it('are the weighted mean where nothing scatters, with its usual variance', () => {
    // Weighted mean and its variance: 1 / sum of weights (Bevington & Robinson, Data Reduction, eq. 4.17 and 4.19, from memory).
    const all = [measured(10, 1), measured(12, 2), measured(11, 1)];
    const pooled = pool(all, { ...ONE, leastScatter: [1e-6], scatter: [1e-6] });
    const { mean, covariance } = pooled.at(0);
    const weights = 1 + 1 / 4 + 1;
    expect(mean[0]).toBeCloseTo((10 + 12 / 4 + 11) / weights, 4);
    expect(covariance[0]).toBeCloseTo(1 / weights, 3);
  });

  it('find scatter and drift that were put in', () => {
    const random = randomStream(41, 1);
    const [drift, scatter, noise] = [5, 2, 0.5];
    const all = Array.from({ length: 400 }, (_, i) => {
      const time = i / 199.5 - 1;
      return measured(3 + drift * time + scatter * random.normal() + noise * random.normal(), noise, time);
    });
    const found = pool(all, { ...ONE, driftSigma: [100] });
    // Standard errors: scatter / sqrt(2n), (scatter and noise) / sqrt(n), times sqrt(3) for the drift.
    expect(Math.abs(found.scatter[0] - scatter)).toBeLessThan((4 * Math.hypot(scatter, noise)) / Math.sqrt(800));
    expect(Math.abs(found.at(1).mean[0] - 8)).toBeLessThan((4 * 2 * scatter) / Math.sqrt(400));
  });

  it('say of a spectrum only what the others say', () => {
    const all = [measured(0, 1), measured(0, 1), measured(0, 1), measured(30, 1)];
    const pooled = pool(all, ONE);
    const others = pool(all.slice(0, 3), { ...ONE, scatter: pool(all, ONE).scatter });
    expect(pooled.at(0, all[3]).mean[0]).toBeLessThan(0.1);
    expect(others.at(0).mean[0]).toBeLessThan(0.1);
    expect(pooled.at(0).mean[0]).toBeGreaterThan(1);
  });

  it('take a quantity of which a spectrum says nothing from the rest', () => {
    const blind: Said = { information: new Float64Array(4), vector: new Float64Array(2), time: 0 };
    const full: Said = { information: Float64Array.of(4, 1, 1, 1), vector: Float64Array.of(9, 3), time: 0 };
    const two: PoolStart = {
      mean: [0, 0],
      sigma: [100, 100],
      driftSigma: [0, 0],
      scatter: [0.1, 0.1],
      leastScatter: [0.1, 0.1],
    };
    const { mean } = pool([blind, full, full], two).at(0);
    expect(mean[0]).toBeCloseTo(2, 2);
    expect(mean[1]).toBeCloseTo(1, 2);
  });

  it('do not depend on the order of the spectra', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.double({ min: -50, max: 50, noNaN: true }), fc.double({ min: 0.1, max: 10, noNaN: true })),
          {
            minLength: 2,
            maxLength: 12,
          },
        ),
        (values) => {
          const all = values.map(([value, sigma]) => measured(value, sigma));
          const [a, b] = [pool(all, ONE).at(0), pool([...all].reverse(), ONE).at(0)];
          expect(Math.abs(a.mean[0] - b.mean[0])).toBeLessThan(1e-6 * (1 + Math.abs(a.mean[0])));
          expect(Math.abs(a.covariance[0] / b.covariance[0] - 1)).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 60, seed: 7 },
    );
  });
});

// What the fit says of its own uncertainty against what happens when the counts are drawn again and again from its model.
// Ten compositions, 2e4 to 1e6 counts. LIMNER_DRAWS=200 makes the 2,000 draws of the full check; `npm test` makes fewer.
import { describe, expect, it } from 'vitest';
import { boundOf, fitDraw, matchedCase, uniformDistance, type FittedDraw, type Matched } from './matched.ts';

const COMPOSITIONS = [
  'SiO2',
  '2PbCO3*Pb(OH)2',
  'HgS',
  'CaSO4*2H2O',
  'Fe2O3',
  'CuCO3*Cu(OH)2',
  'BaSO4',
  'Pb2SnO4',
  'KAlSi3O8',
  'As2S3',
];
const COUNTS = [2e4, 1e5, 1e6];
const DRAWS = Number(process.env['LIMNER_DRAWS'] ?? 8);
/** Amounts this many standard deviations above 0 are away from the bound. */
const AWAY = 4;

interface Sample {
  readonly matched: Matched;
  readonly draws: readonly FittedDraw[];
}

const samples: Sample[] = COMPOSITIONS.map((composition, k) => {
  const matched = matchedCase(composition, COUNTS[k % COUNTS.length]);
  return { matched, draws: Array.from({ length: DRAWS }, (_, i) => fitDraw(matched, 1000 * k + i)) };
});

/** (found - true) / sigma of every element away from its bound. */
const pulls = samples.flatMap(({ matched, draws }) =>
  draws.flatMap(({ elements }) =>
    elements.flatMap(({ found, wanted, sigma }, e) =>
      wanted > AWAY * boundOf(matched, e) ? [(found - wanted) / sigma] : [],
    ),
  ),
);
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
const within = (limit: number): number => pulls.filter((pull) => Math.abs(pull) < limit).length / pulls.length;
/** Elements of one spectrum share their background, so that pulls count for less than their number. */
const chance = (p: number): number => 2.6 * Math.sqrt((p * (1 - p)) / (0.7 * pulls.length));

describe(`${COMPOSITIONS.length * DRAWS} spectra drawn from the model`, () => {
  it('all converge', () => {
    expect(samples.flatMap(({ draws }) => draws).filter(({ converged }) => !converged)).toEqual([]);
  });

  it('amounts are not biased: less than a tenth of a standard deviation', () => {
    expect(Math.abs(mean(pulls))).toBeLessThan(0.1 + 2.6 / Math.sqrt(0.7 * pulls.length));
  });

  it('intervals of 68 and 95 % hold the truth as often', () => {
    expect(Math.abs(within(1) - 0.683)).toBeLessThan(0.02 + chance(0.683));
    expect(Math.abs(within(1.96) - 0.95)).toBeLessThan(0.01 + chance(0.95));
  });

  it('amounts scatter by no more and no less than the Cramér-Rao bound, within 10 %', () => {
    const ratios = samples.flatMap(({ matched, draws }) =>
      matched.zs.flatMap((_, e) => {
        const bound = boundOf(matched, e);
        if (draws[0].elements[e].wanted <= AWAY * bound) return [];
        return [mean(draws.map(({ elements }) => (elements[e].found - elements[e].wanted) ** 2)) / bound ** 2];
      }),
    );
    expect(Math.abs(mean(ratios) - 1)).toBeLessThan(0.1 + 2.6 * Math.sqrt(2 / (0.7 * pulls.length)));
  });

  it('p-values of the fit are uniform (Kolmogorov-Smirnov, 1 % level)', () => {
    const values = samples.flatMap(({ draws }) => draws.map(({ pValue }) => pValue));
    expect(uniformDistance(values)).toBeLessThan(1.63 / Math.sqrt(values.length));
  });
});

/** The figures behind the checks, for the full run. */
function report(): string {
  const values = samples.flatMap(({ draws }) => draws.map(({ pValue }) => pValue));
  const square = mean(pulls.map((pull) => pull ** 2));
  const lines = samples.map(({ matched, draws }, k) => {
    const elements = matched.zs.map((z, e) => {
      const bound = boundOf(matched, e);
      const errors = draws.map(({ elements: found }) => (found[e].found - found[e].wanted) / bound);
      return `Z ${z}: bias ${mean(errors).toFixed(2)}, variance ${mean(errors.map((x) => x * x)).toFixed(2)} of the bound`;
    });
    return `${COMPOSITIONS[k]}, ${COUNTS[k % COUNTS.length]} counts: ${elements.join('; ')}`;
  });
  return [
    `${pulls.length} pulls: mean ${mean(pulls).toFixed(3)}, mean square ${square.toFixed(3)}`,
    `within 1 sigma ${within(1).toFixed(4)}, within 1.96 sigma ${within(1.96).toFixed(4)}`,
    `p-values: distance ${uniformDistance(values).toFixed(4)}, 1 % level ${(1.63 / Math.sqrt(values.length)).toFixed(4)}`,
    ...lines,
  ].join('\n');
}

if (process.env['LIMNER_DRAWS'] !== undefined) process.stdout.write(`${report()}\n`);

// What separation() expects against what Poisson fits find: counts drawn from the true explanation, fitted with fixed shapes under both
// explanations by the maximum-likelihood fit that verdicts use, doubts of the physics at their priors. LIMNER_SEPARATION=N takes N
// draws per pair; `npm test` a few. With one element more, chi-square falls by 1 on average from noise alone: that is taken off.
import { describe, expect, it } from 'vitest';
import { bandedAfter, bandedOf } from '../../packages/core/src/arithmetic/banded.ts';
import { fitPoisson } from '../../packages/core/src/fit/poisson.ts';
import type { PoissonProblem } from '../../packages/core/src/fit/poisson-problem.ts';
import type { Prior } from '../../packages/core/src/fit/eliminate.ts';
import { ownColumnsOf } from '../../packages/core/src/identify/nuisance-owners.ts';
import { compare, type Comparison } from '../../packages/core/src/plan/comparison.ts';
import { usualMeasurement } from '../../packages/core/src/plan/overlap.ts';
import { riseOf } from '../../packages/core/src/plan/separation.ts';
import { mixture } from '../../packages/core/src/atomic/composition.ts';
import { poisson } from '../../packages/core/src/simulate/poisson.ts';
import { randomStream } from '../../packages/core/src/simulate/random.ts';

const DRAWS = Number(process.env['LIMNER_SEPARATION'] ?? 12);

/** Main part, the part asked about and its share, beam in keV, counts: each 4 to 8 sigma. */
const PAIRS = [
  ['2PbCO3*Pb(OH)2', 'CaSO4', 0.02, 15, 100_000],
  ['BaSO4', 'TiO2', 0.06, 20, 60_000],
  ['PbCrO4', 'As2S3', 0.02, 20, 60_000],
  ['CaCO3', 'Sb2O3', 0.04, 15, 40_000],
  ['MnO2', 'Fe2O3', 0.02, 15, 60_000],
  ['HgS', 'PbO', 0.06, 15, 60_000],
] as const;

/** The columns of some of the elements, their own nuisances and all that belongs to none. */
function problemOf({ design, range, weights }: Comparison, members: readonly number[], counts: Float64Array) {
  const { layout, prior } = design;
  const own = ownColumnsOf(layout);
  const struck = new Set([...own].flatMap(([e, columns]) => (members.includes(e) ? [] : columns)));
  const kept = layout.columns
    .map((_, j) => j)
    .filter((j) => {
      const place = layout.placeEliminated(j);
      return place < 0 ? members.includes(j) : !struck.has(place);
    });
  const lower = layout.lowerBounds();
  const problem: PoissonProblem = {
    columns: kept.map((j) => layout.columns[j]),
    counts,
    lo: range.lo,
    hi: range.hi,
    lower: Float64Array.from(kept, (j) => lower[j]),
    prior: priorOf(prior, kept, layout.elements),
  };
  const roughly = Float64Array.from(weights, (w) => (w > 0 ? 1 / w : 1));
  return { problem, roughly };
}

function priorOf(prior: Prior, kept: readonly number[], elements: number): Prior {
  const precision = bandedOf(bandedAfter(elements, prior.precision), kept);
  const precisionMean = Float64Array.from(kept, (j) => (j < elements ? 0 : prior.precisionMean[j - elements]));
  return { precision, precisionMean, constant: prior.constant ?? 0 };
}

describe('separation against simulated fits', () => {
  it.each(PAIRS)('%s with %s', (main, asked, share, beamKev, counts) => {
    const truth = mixture([
      { formula: main, massFraction: 1 - share },
      { formula: asked, massFraction: share },
    ]);
    const alone = mixture([{ formula: main, massFraction: 1 }]);
    const compared = compare(truth, alone, usualMeasurement(beamKev, 130, counts))!;
    const expected = riseOf(compared);
    const random = randomStream(811, counts);
    const added = compared.isTrue.length - compared.isWrong.length;
    const rises = Array.from({ length: DRAWS }, () => {
      const drawn = compared.counts.map((mean) => poisson(mean, random));
      const [best, other] = [compared.isTrue, compared.isWrong].map((members) => {
        const { problem, roughly } = problemOf(compared, members, drawn);
        return fitPoisson(problem, new Float64Array(problem.columns.length), { roughly }).penalised;
      });
      return other - best - added;
    });
    const mean = rises.reduce((a, b) => a + b, 0) / DRAWS;
    const error = Math.sqrt(rises.reduce((sum, rise) => sum + (rise - mean) ** 2, 0) / (DRAWS - 1) / DRAWS);
    if (DRAWS > 50)
      process.stdout.write(
        `${main} ${asked}: expected ${expected.toFixed(1)}, found ${mean.toFixed(1)} ± ${error.toFixed(1)}\n`,
      );
    expect(expected).toBeGreaterThan(9);
    // Within 10 % and what so few draws scatter.
    expect(Math.abs(mean - expected)).toBeLessThan(0.1 * expected + 3 * error);
  });
});

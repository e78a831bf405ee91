// Two Gaussian lines on a flat, dominant background, against the closed form (worked here): with g normalised Gaussians of one sigma,
// D apart, on b counts per channel of width w, the information on a line of N counts is N^2 w / (2 sigma sqrt(pi) b), and a second free
// line takes the part rho^2 of it, rho = exp(-D^2 / (4 sigma^2)). So leaving the first line out costs that information times 1 - rho^2.
import { describe, expect, it } from 'vitest';
import { banded } from '../arithmetic/banded.ts';
import { eliminate } from '../fit/eliminate.ts';
import { normalEquations } from '../fit/normal.ts';
import { solveSubset } from '../fit/subset.ts';
import { columnOf } from '../model/column.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import { overlapInflation } from '../peaks/clash.ts';

const CHANNELS = 1200;
const WIDTH_EV = 2;
const SIGMA_EV = 40;
const BACKGROUND = 1e4;
const AREA = 2e4;

const gaussian = (centreEv: number): Float64Array =>
  Float64Array.from(
    { length: CHANNELS },
    (_, i) =>
      (WIDTH_EV / (SIGMA_EV * Math.sqrt(2 * Math.PI))) * Math.exp(-0.5 * ((WIDTH_EV * i - centreEv) / SIGMA_EV) ** 2),
  );

/** Chi-square that leaving the first line out costs, by the engine that separation() uses; the background is known. */
function engine(distanceEv: number): number {
  const lines = [gaussian(1200), gaussian(1200 + distanceEv)];
  const flat = new Float64Array(CHANNELS).fill(1);
  const counts = lines[0].map((_, i) => AREA * (lines[0][i] + lines[1][i]) + BACKGROUND);
  const weights = new Float64Array(CHANNELS).fill(1 / BACKGROUND);
  const prior = { precision: banded(1, Float64Array.of(1e30)), precisionMean: Float64Array.of(1e30 * BACKGROUND) };
  const normal = normalEquations(
    [...lines, flat].map((values) => columnOf(values)),
    counts,
    weights,
    0,
    CHANNELS,
  );
  const problem = eliminate(normal, 2, prior);
  return solveSubset(problem, [1]).objective - solveSubset(problem, [0, 1]).objective;
}

const closed = (distanceEv: number): number => {
  const rho = Math.exp(-((distanceEv / SIGMA_EV) ** 2) / 4);
  return ((AREA ** 2 * WIDTH_EV) / (2 * SIGMA_EV * Math.sqrt(Math.PI) * BACKGROUND)) * (1 - rho ** 2);
};

describe('two lines on a flat background', () => {
  it.each([5, 10, 20, 40, 80, 160, 320])('%i eV apart at sigma 40 eV: as the closed form has it', (distanceEv) => {
    // Sampling a Gaussian of 20 channels' sigma and known counts leave nothing but rounding.
    expect(engine(distanceEv) / closed(distanceEv)).toBeCloseTo(1, 5);
  });

  it('is widened as overlapInflation says', () => {
    for (const distanceEv of [10, 40, 80])
      expect(Math.sqrt(closed(1e4) / engine(distanceEv))).toBeCloseTo(
        overlapInflation(distanceEv / (SIGMA_EV * FWHM_PER_SIGMA)),
        4,
      );
  });
});

import assert from 'node:assert/strict';
import { fitPoisson } from '../../packages/core/dist/fit/poisson.js';
import { CANDIDATE_ELEMENTS } from '../../packages/core/dist/identify/candidates.js';
import { simulate } from '../../packages/core/dist/index.js';
import { plainProblem } from './problem.mjs';

/** Maximum likelihood of every candidate element and the background at once, amounts not negative, to its maximum. */
export function fitOnce({ poisson }) {
  const { roughly, ...problem } = poisson;
  const fit = fitPoisson(problem, new Float64Array(problem.columns.length), { roughly });
  assert.ok(fit.converged, 'the fit converges');
  return fit;
}

/** The same grain on axes of more and more channels, and with more and more elements to choose from. */
export function growth() {
  const grain = (channels) =>
    simulate(
      { composition: '2PbCO3*Pb(OH)2' },
      { beamKev: 20, totalCounts: 3e5, seed: 5, channels, axis: { offsetEv: 0, gainEv: 20480 / channels } },
    );
  const everyNth = (n) => CANDIDATE_ELEMENTS.filter((z, i) => i % n === 0 || z === 82 || z === 8 || z === 6);
  return [
    ...[1024, 2048, 4096, 8192].map((channels) => ({
      label: `${channels} channels, ${CANDIDATE_ELEMENTS.length} elements`,
      problem: plainProblem(grain(channels)),
    })),
    ...[4, 2, 1].map((n) => ({
      label: `2048 channels, ${everyNth(n).length} elements`,
      problem: plainProblem(grain(2048), { elements: everyNth(n) }),
    })),
  ];
}

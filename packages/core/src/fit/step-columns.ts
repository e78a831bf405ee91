import { columnFrom, information, type Column } from '../model/column.ts';
import { EDGE_STEP, type EdgeSteps } from '../model/edge-steps.ts';
import { WORTHWHILE, type Member } from '../model/nuisances.ts';
import { stretch } from '../arithmetic/stretch.ts';
import type { Expansion, Scene } from './expansion.ts';
import type { ArtefactColumn } from './layout.ts';
import { surroundingsOf } from './surroundings.ts';

/** Steps of the continuum at the members' absorption edges, as far as the counts can tell. */
export function stepColumns(
  scene: Scene,
  at: Expansion,
  members: readonly Member[],
  background: Float64Array,
  weights: Float64Array,
): ArtefactColumn[] {
  const { lo, hi } = scene.range;
  const surroundings = surroundingsOf(scene, at);
  return members
    .flatMap((member) =>
      surroundings.edgeSteps(member.template.z).flatMap((step) => {
        // A shell whose lines are not excited absorbs nothing that the counts could tell.
        const sigma = EDGE_STEP.sigma * absorbingShare(member, step, background, hi);
        return sigma > 0 ? [{ column: times(step.column, background), sigma }] : [];
      }),
    )
    .filter(({ column, sigma }) => sigma ** 2 * information(column, weights, lo, hi) > WORTHWHILE ** 2)
    .map(({ column, sigma }) => ({ name: 'continuum doubt', column, prior: { mean: 0, sigma } }));
}

/** What of the full doubt is due to an element, by its lines of that shell over the continuum at the edge; at most 1. */
function absorbingShare(
  { groups, heights, amount }: Member,
  { family, at, fwhm }: EdgeSteps,
  background: Float64Array,
  hi: number,
): number {
  const own = groups.reduce((sum, { group, area }, g) => (group.family === family ? sum + area * heights[g] : sum), 0);
  const beneath = fwhm * background[Math.min(at, hi - 1)];
  return Math.min(1, (amount * own) / (EDGE_STEP.fullAt * Math.max(beneath, 1)));
}

/** A relative change of the continuum in counts. */
function times({ values, lo }: Column, background: Float64Array): Column {
  const out = stretch(values.length);
  for (let i = 0; i < out.length; i++) out[i] = values[i] * Math.max(0, background[lo + i]);
  return columnFrom(out, lo);
}

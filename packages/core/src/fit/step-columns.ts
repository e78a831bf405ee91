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
  const out: ArtefactColumn[] = [];
  for (const member of members) {
    for (const step of surroundings.edgeSteps(member.template.z)) {
      const sigma = EDGE_STEP.sigma * absorbingShare(member, step, background, hi);
      // A shell whose lines are not excited absorbs nothing that the counts could tell.
      if (!(sigma > 0)) continue;
      const column = times(step.column, background);
      if (sigma ** 2 * information(column, weights, lo, hi) > WORTHWHILE ** 2)
        out.push({ name: 'continuum doubt', column, prior: { mean: 0, sigma } });
    }
  }
  return out;
}

/** What of the full doubt is due to an element, by its lines of that shell over the continuum at the edge; at most 1. */
function absorbingShare(
  { groups, heights, amount }: Member,
  { family, at, fwhm }: EdgeSteps,
  background: Float64Array,
  hi: number,
): number {
  let own = 0;
  for (let g = 0; g < groups.length; g++) if (groups[g].group.family === family) own += groups[g].area * heights[g];
  const beneath = fwhm * background[Math.min(at, hi - 1)];
  return Math.min(1, (amount * own) / (EDGE_STEP.fullAt * Math.max(beneath, 1)));
}

/** A relative change of the continuum in counts. */
function times({ values, lo }: Column, background: Float64Array): Column {
  const out = stretch(values.length);
  for (let i = 0; i < out.length; i++) out[i] = values[i] * Math.max(0, background[lo + i]);
  return columnFrom(out, lo);
}

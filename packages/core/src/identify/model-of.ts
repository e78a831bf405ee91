import { addScaled } from '../model/column.ts';
import type { Round } from './state.ts';

/** Expected counts of a set of amounts with its own coefficients of everything else. */
export function modelOf(round: Round, x: Float64Array, theta: Float64Array, n: number): Float64Array {
  const model = new Float64Array(n);
  round.design.templates.forEach(({ column }, e) => addScaled(model, column, x[e]));
  round.design.artefacts.forEach(({ column }, i) => addScaled(model, column, theta[i]));
  round.design.nuisances.forEach(({ column }, i) => addScaled(model, column, theta[round.design.artefacts.length + i]));
  return model;
}

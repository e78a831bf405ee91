import { addScaled } from '../model/column.ts';
import type { Round } from './state.ts';

/** Expected counts of a set of amounts with its own coefficients of everything else. */
export function modelOf(round: Round, x: Float64Array, theta: Float64Array, n: number): Float64Array {
  const model = new Float64Array(n);
  round.templates.forEach(({ column }, e) => addScaled(model, column, x[e]));
  round.artefacts.forEach(({ column }, i) => addScaled(model, column, theta[i]));
  round.nuisances.forEach(({ column }, i) => addScaled(model, column, theta[round.artefacts.length + i]));
  return model;
}

import type { MassFractions } from '../../atomic/composition.ts';

/** Matrices kept beside the first: sets of elements tried in one place share theirs. */
const KEPT = 3;

/**
 * A pure function of a matrix whose first result and last few are kept, told apart by what the matrices hold: every spectrum, and every axis
 * that is tried, begins with the same matrix.
 */
export function keepLast<Result>(make: (matrix: MassFractions) => Result): (matrix: MassFractions) => Result {
  const kept: { readonly matrix: MassFractions; readonly result: Result }[] = [];
  return (matrix) => {
    const at = placeOf(matrix, kept);
    if (at === 0) return kept[0].result;
    const [found] = at < 0 ? [{ matrix: matrix.slice(), result: make(matrix) }] : kept.splice(at, 1);
    kept.splice(1, 0, found);
    if (kept.length > KEPT + 1) kept.pop();
    return found.result;
  };
}

function placeOf(matrix: MassFractions, kept: readonly { readonly matrix: MassFractions }[]): number {
  for (let i = 0; i < kept.length; i++) if (sameMatrix(kept[i].matrix, matrix)) return i;
  return -1;
}

function sameMatrix(a: MassFractions, b: MassFractions): boolean {
  if (a.length !== b.length) return false;
  for (let z = 0; z < a.length; z++) if (a[z] !== b[z]) return false;
  return true;
}

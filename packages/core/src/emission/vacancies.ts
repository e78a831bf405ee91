import { costerKronig, type SubshellIndex } from '../atomic/shells.ts';

/** First and last subshell of each shell. */
const SHELLS: readonly (readonly [SubshellIndex, SubshellIndex])[] = [
  [0, 0],
  [1, 3],
  [4, 8],
];

/**
 * Turns ionisations per subshell (length 9, changed in place) into vacancies that decay in each subshell, Coster-Kronig
 * transitions inside the L and M shells included. Left out: the vacancies that a K decay leaves in L (a few per cent of
 * L3 where the beam excites K well) and an L decay in M.
 */
export function redistribute(vacancies: Float64Array, z: number): void {
  for (const [first, last] of SHELLS) {
    for (let to = first + 1; to <= last; to++) {
      for (let from = first; from < to; from++) {
        if (vacancies[from] > 0) vacancies[to] += costerKronig(z, from, to) * vacancies[from];
      }
    }
  }
}

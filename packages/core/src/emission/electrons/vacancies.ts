import { costerKronig, type SubshellIndex, SUBSHELLS, vacanciesLeft } from '../../atomic/shells.ts';

/**
 * Turns ionisations per subshell (length 9, changed in place) into vacancies that decay in each subshell: those that
 * Coster-Kronig transitions hand on inside the L and the M shell, and those that the decay of K leaves in L and M, of L in M.
 * Per vacancy of K an atom gets 2 (1 - yield) Auger holes, shared by the Auger rates, and yield x fraction of each line
 * (W. Bambynek et al., Rev. Mod. Phys. 44 (1972) 716): 1.96 vacancies of L for Na, 1.37 for Cu. Under a beam, which ionises
 * outer shells so much more easily, that adds up to 1 % to L and up to 4 % to M (Zr to Gd, 20 to 30 kV); where photons
 * ionise, it may be the larger part. Left out: the second hole of a Coster-Kronig transition.
 */
export function redistribute(vacancies: Float64Array, z: number): void {
  for (let from = 0; from < SUBSHELLS.length - 1; from++) {
    if (vacancies[from] > 0) handOn(vacancies, z, from);
  }
}

function handOn(vacancies: Float64Array, z: number, from: SubshellIndex): void {
  for (let to = from + 1; to < SUBSHELLS.length; to++) {
    vacancies[to] += (costerKronig(z, from, to) + vacanciesLeft(z, from, to)) * vacancies[from];
  }
}

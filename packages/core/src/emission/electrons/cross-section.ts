import { log } from '../../arithmetic/exponential.ts';
import { boteSalvat } from '../../atomic/ionisation-parameters.ts';
import { edgeEv, type SubshellIndex } from '../../atomic/shells.ts';

/** Bohr radius, cm, as the source used it (CODATA 2002). */
const BOHR_RADIUS_CM = 5.291772108e-9;
/** Electron rest energy, eV, as the source used it (CODATA 2002). */
export const ELECTRON_REST_EV = 510998.918;
const SCALE_CM2 = 4 * Math.PI * BOHR_RADIUS_CM ** 2;

/**
 * Cross section for ionising a subshell by electron impact, cm2; 0 below the edge and where the source has no subshell.
 * The overvoltage U counts from our own edge energy, the parameters stay as published.
 * Source: D. Bote, F. Salvat, A. Jablonski, C.J. Powell, At. Data Nucl. Data Tables 95 (2009) 871, erratum 97 (2011) 186.
 * Measurements lie 11 % (rms) about it (X. Llovet et al., J. Phys. Chem. Ref. Data 43 (2014) 013102). Seen here at 15 kV, beside
 * the continuum: K of Cu 4 % above the model, Zn 13 %, Ga 20 %, As 30 % (overvoltages 1.7 to 1.3), L of Ga and As within 5 %.
 * The empirical formula of Casnati et al. 1982 is 17 to 20 % higher for these K shells; two instruments decide nothing.
 */
export function ionisationCrossSection(z: number, s: SubshellIndex, energyEv: number): number {
  const parameters = boteSalvat(z, s);
  if (parameters === undefined) return 0;
  return crossSection(parameters, edgeEv(z, s), energyEv);
}

/** The same from the parameters themselves ({@link boteSalvat}) and an edge energy, eV. */
export function crossSection(parameters: Float64Array, edge: number, energyEv: number): number {
  if (!(energyEv > edge)) return 0;
  const u = energyEv / edge;
  return SCALE_CM2 * (u <= 16 ? nearThreshold(parameters, u) : farAbove(parameters, u, energyEv));
}

/** @param p parameters: a1 to a5 from place 1 on */
function nearThreshold(p: Float64Array, u: number): number {
  const v = 1 / (1 + u);
  const root = p[1] + p[2] * u + v * (p[3] + v * v * (p[4] + v * v * p[5]));
  return ((u - 1) / (u * u)) * root * root;
}

/** @param p parameters: Be, Anlj and g1 to g4 from place 6 on */
function farAbove(p: Float64Array, u: number, energyEv: number): number {
  const momentum2 = energyEv * (energyEv + 2 * ELECTRON_REST_EV);
  const total = energyEv + ELECTRON_REST_EV;
  const beta2 = momentum2 / (total * total);
  const x = Math.sqrt(momentum2) / ELECTRON_REST_EV;
  const bracket =
    (2 * log(x) - beta2) * (1 + p[8] / x) + p[9] + p[10] * Math.sqrt(ELECTRON_REST_EV / total) + p[11] / x;
  return ((p[7] / beta2) * u * bracket) / (u + p[6]);
}

import { exp, expm1, log, log1p } from '../arithmetic/exponential.ts';
import { massFractionsOf } from '../atomic/composition.ts';
import type { Detector } from './detector.ts';
import { reaching } from './efficiency.ts';
import { SILICON, SILICON_DENSITY, SILICON_NITRIDE, SILICON_NITRIDE_DENSITY } from './layers.ts';
import { SILICON_K_ALPHA_EV, SILICON_K_EDGE_EV, SILICON_K_PHOTONS } from './silicon-k.ts';

/** Part of what a window sends inwards that meets the crystal: some mm behind it, some mm wide. Common practice, no source. */
const WINDOW_VIEW = 0.3;

/** Silicon in a nitride film, um of the element per um of film. */
const SILICON_OF_NITRIDE = (massFractionsOf('Si3N4')[14] * SILICON_NITRIDE_DENSITY) / SILICON_DENSITY;

/**
 * Counts in a false Si K peak (1740 eV) per photon on its way to the detector: photons above the Si K edge absorbed in the dead
 * layer (and in the bars of the grid and a nitride window) make Si K photons, half of them go inwards and are counted.
 * Dead layer of thickness d: w (1 - 1/r) [1 - exp(-mu d)] p / 2, p the part of the half space not reabsorbed.
 * Source: derived from yield, jump and attenuation; the effect: detector handbooks, 0.05 to 0.2 % apparent Si (from memory).
 */
export function siliconFluorescence(detector: Detector, energyEv: number): number {
  if (!(energyEv > SILICON_K_EDGE_EV)) return 0;
  const { window, windowUm, openFraction, gridUm, deadLayerUm } = detector;
  const silicon = SILICON(energyEv);
  let photons = reaching(detector, energyEv, silicon) * inwards(silicon, deadLayerUm);
  if (window === 'silicon-nitride') {
    // Attenuated by half the film on the way to its silicon.
    const before = exp(-0.5 * SILICON_NITRIDE(energyEv) * windowUm);
    photons += WINDOW_VIEW * before * inwards(silicon, SILICON_OF_NITRIDE * windowUm);
  }
  const film = window === 'polymer' || window === 'silicon-nitride';
  if (film && openFraction < 1) photons += WINDOW_VIEW * (1 - openFraction) * behindBars(silicon, gridUm);
  return SILICON_K_PHOTONS * photons;
}

/** {@link siliconFluorescence} summed over many energies: counts of the false peak, of photons per energy. */
export function siliconFluorescenceCounts(detector: Detector, energiesEv: Float64Array, photons: Float64Array): number {
  return photons.reduce((sum, n, i) => (n > 0 ? sum + n * siliconFluorescence(detector, energiesEv[i]) : sum), 0);
}

const FOR_ITS_OWN = SILICON(SILICON_K_ALPHA_EV);

/** Isotropic emission of a thin layer that leaves it inwards, per photon that meets it. */
function inwards(silicon: number, um: number): number {
  return -0.5 * expm1(-silicon * um) * meanPassing(FOR_ITS_OWN * um);
}

/**
 * The same behind bars much thicker than 1/mK: mu exp(-mu t) / 2 times the integral of exp(mu y) E2(mK y) over the distance y
 * from the back, which with r = mu/mK is -[r + ln(1 - r)] / (mK r2).
 */
function behindBars(silicon: number, um: number): number {
  const r = silicon / FOR_ITS_OWN;
  // At larger r nothing comes through bars of hundreds of um.
  if (r > 0.9) return 0;
  const integral = r < 0.01 ? 0.5 + r / 3 : -(r + log1p(-r)) / (r * r);
  return 0.5 * r * exp(-silicon * um) * integral;
}

/**
 * Part of an isotropic half space that passes out of a layer of optical thickness x, mean over the depths of the layer:
 * (1/2 - E3(x)) / x. By the recurrence E(n+1) = (exp(-x) - x En) / n and the series of E1, for x < 1.
 * Source: NIST Digital Library of Mathematical Functions, 6.6.2 and 8.19.12.
 */
function meanPassing(x: number): number {
  if (!(x > 1e-9)) return 1;
  let [term, e1] = [1, -EULER - log(x)];
  for (let k = 1; k < 20; k++) {
    term *= -x / k;
    e1 -= term / k;
  }
  const e2 = exp(-x) - x * e1;
  return (-expm1(-x) + x * e2) / (2 * x);
}

/** Euler's constant. */
const EULER = 0.5772156649015329;

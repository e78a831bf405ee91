import { log } from '../../arithmetic/exponential.ts';
import { power } from '../../arithmetic/power.ts';
import { massAttenuation } from '../../atomic/attenuation.ts';
import { MAX_Z } from '../../atomic/elements.ts';
import type { Arrangement } from './arrangement.ts';
import { crossSectionExponent, depthDistribution, emergingFraction } from '../thick/depth-distribution.ts';
import type { BodyBeam } from './matter.ts';

/** Ratio of neighbouring energies where absorption is worked out: finer than a silicon detector resolves. */
const STEP = 1.008;
/** Depth distributions change slowly with energy: worked out at every so many steps and interpolated. */
const STEPS_BETWEEN = 6;
const LOWEST_EV = 40;

/**
 * Continuum of all parts of a body: of each part, that of its thick specimen (emission.continuum) times the share of its
 * photons that is born in the part and gets out, over the share that gets out of the thick specimen.
 */
export function createBodyContinuum(beam: BodyBeam): (body: Arrangement, energiesEv: Float64Array) => Float64Array {
  const { emission, pathFactor } = beam;
  const count = Math.ceil(log(emission.beamEv / LOWEST_EV) / log(STEP)) + 1;
  const grid = Float64Array.from({ length: count }, (_, i) => emission.beamEv * power(STEP, i - count + 1));
  const rows = new Array<Float64Array | undefined>(MAX_Z + 1);
  const chiOf = (composition: Float64Array): Float64Array => {
    const chi = new Float64Array(count);
    composition.forEach((fraction, z) => {
      if (!(fraction > 0)) return;
      const own = (rows[z] ??= grid.map((energy) => massAttenuation(z, energy) * pathFactor));
      own.forEach((value, i) => (chi[i] += fraction * value));
    });
    return chi;
  };
  return (body, energiesEv) => {
    const out = new Float64Array(energiesEv.length);
    const ratios = emergingRatios(
      body,
      grid,
      emission.beamEv / 1000,
      body.parts.map(({ matter }) => chiOf(matter.composition)),
    );
    body.parts.forEach(({ matter, massThickness }, k) => {
      if (!(massThickness > 0)) return;
      const thick = emission.continuum(matter.composition, energiesEv);
      thick.forEach((photons, i) => {
        if (photons > 0) out[i] += photons * interpolate(grid, ratios[k], energiesEv[i]);
      });
    });
    return out;
  };
}

/** Of each part, at each energy of the grid: photons that leave the body over those that leave the thick specimen. */
function emergingRatios(
  { parts, share }: Arrangement,
  grid: Float64Array,
  beamKev: number,
  chis: readonly Float64Array[],
): Float64Array[] {
  const ratios = parts.map(() => new Float64Array(grid.length));
  const node = (at: number): ((k: number, chi: readonly number[]) => number) => {
    // Just below the beam's energy nothing is left to distribute; the shape there tends to a limit.
    const photonKev = Math.min(grid[Math.min(at, grid.length - 1)] / 1000, beamKev / (1 + 1e-4));
    const thick = parts.map(({ matter: { means } }) =>
      depthDistribution(means, beamKev, photonKev, crossSectionExponent(means.z, 0)),
    );
    const emerging = share(thick);
    return (k, chi) => emerging(k, chi) / (thick[k].generated * emergingFraction(thick[k], chi[k]));
  };
  let upper = node(0);
  for (let start = 0; start < grid.length; start += STEPS_BETWEEN) {
    const lower = upper;
    upper = node(start + STEPS_BETWEEN);
    for (let i = start; i < Math.min(grid.length, start + STEPS_BETWEEN); i++) {
      const chi = chis.map((own) => own[i]);
      const part = (i - start) / STEPS_BETWEEN;
      ratios.forEach((own, k) => (own[i] = (1 - part) * lower(k, chi) + (part === 0 ? 0 : part * upper(k, chi))));
    }
  }
  return ratios;
}

/** Linear on the grid; the ends go on outside. */
function interpolate(grid: Float64Array, values: Float64Array, energy: number): number {
  const last = grid.length - 1;
  const position = last + log(energy / grid[last]) / log(STEP);
  const k = Math.max(0, Math.min(last - 1, Math.floor(position)));
  const part = Math.max(0, Math.min(1, position - k));
  return (1 - part) * values[k] + part * values[k + 1];
}

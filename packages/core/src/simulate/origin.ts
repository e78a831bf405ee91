import { symbolOf } from '../atomic/elements.ts';
import { DATA_VERSION, SOFTWARE_VERSION } from '../atomic/version.ts';
import type { MassFractions } from '../atomic/composition.ts';
import type { Body, Layer, Material } from '../emission/body/body.ts';
import type { HeaderEntry } from '../spectrum/spectrum.ts';
import type { Setup, SimulationConditions } from './conditions.ts';

/** Keyword of our own that marks a spectrum as not measured. */
export const ORIGIN_KEY = '##LIMNER-ORIGIN';

/**
 * Header entries that mark a spectrum as simulated and hold what the standard's keywords do not, so that it can be made again:
 * version, noise, every part of the body by mass fractions, every field of the detector, pile-up.
 */
export function originEntries(body: Body, setup: Setup, conditions: SimulationConditions): HeaderEntry[] {
  const { seed, solidAngleSr, perturb, countedOn } = conditions;
  const noise = seed === null ? 'expected counts without noise' : `Poisson noise, seed ${seed}`;
  return [
    entry('COMMENT', `Simulated, not measured: ${noise}`),
    entry(ORIGIN_KEY, 'simulated'),
    entry('##LIMNER-MADE-BY', `@limner/core ${SOFTWARE_VERSION}, tables ${DATA_VERSION}`),
    entry('##LIMNER-SEED', seed === null ? 'none' : String(seed)),
    ...bodyParts(body).map((text) => entry('##LIMNER-BODY', text)),
    entry('##LIMNER-DETECTOR', fields(setup.detector)),
    entry('##LIMNER-PILEUP', typeof setup.pileUp === 'number' ? `part=${setup.pileUp}` : fields(setup.pileUp)),
    ...(setup.totalCounts === null ? [] : [entry('##LIMNER-COUNTS', String(setup.totalCounts))]),
    ...(setup.zeroPeakCounts > 0 ? [entry('##LIMNER-ZERO-PEAK', String(setup.zeroPeakCounts))] : []),
    ...(countedOn === undefined ? [] : [entry('##LIMNER-COUNTED-ON', fields(countedOn))]),
    ...(perturb === undefined ? [] : [entry('##LIMNER-PERTURBED', fields(perturb))]),
    ...(solidAngleSr === undefined ? [] : [{ key: 'SOLIDANGL', unit: 'sR', value: String(solidAngleSr) }]),
  ];
}

const entry = (key: string, value: string): HeaderEntry => ({ key, unit: '', value });

const fields = (of: object): string =>
  Object.entries(of)
    .map(([name, value]) => `${name}=${String(value)}`)
    .join(' ');

/** One text per part, from the beam's side down. */
function bodyParts(body: Body): string[] {
  if (body.kind === 'bulk') return [`thick, ${fractions(body.composition)}`];
  if (body.kind === 'stack') return body.layers.map(layer);
  return [
    ...body.coats.map(layer),
    `grain, diameter ${body.diameterUm} um, ${material(body.grain)}`,
    `surrounding, ${material(body.surrounding)}`,
  ];
}

function layer({ composition, massThickness }: Layer): string {
  const what = massThickness === Infinity ? 'thick' : `layer, ${massThickness} g/cm2`;
  return `${what}, ${fractions(composition)}`;
}

const material = ({ composition, densityGPerCm3 }: Material): string =>
  `${densityGPerCm3} g/cm3, ${fractions(composition)}`;

function fractions(composition: MassFractions): string {
  return Array.from(composition, (fraction, z) => (fraction > 0 ? `${symbolOf(z)} ${fraction}` : ''))
    .filter(Boolean)
    .join(' ');
}

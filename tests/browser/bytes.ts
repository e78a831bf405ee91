import {
  coat,
  identify,
  layerOf,
  massFractionsOf,
  mixture,
  readSpectrum,
  simulate,
  writeEmsa,
  type Body,
  type ReadOptions,
  type SimulationConditions,
} from '@limner/core';

// Runs in Node and in the browser alike.

/** The record of a spectrum's text. @param beamKev where the text has none */
export function recordText(text: string, read: ReadOptions, beamKev: number | null): string {
  const spectrum = readSpectrum(new TextEncoder().encode(text), { name: 'grain.msa', ...read });
  return JSON.stringify(identify(spectrum, spectrum.beamKev === null && beamKev !== null ? { beamKev } : {}));
}

/** Simulated spectra of several bodies under several conditions, as EMSA text. */
export const CASES = [
  'mixture',
  'coated',
  'film',
  'grain',
  'rate',
  'perturbed',
  'fine axis',
  'counted elsewhere',
  'expected',
] as const;
export type Case = (typeof CASES)[number];

const of = (formula: string, densityGPerCm3: number) => ({ composition: massFractionsOf(formula), densityGPerCm3 });
const thick = (formula: string) => ({ composition: massFractionsOf(formula), massThickness: Infinity });

const MIXTURE = mixture([
  { formula: '2PbCO3*Pb(OH)2', massFraction: 0.6 },
  { formula: 'HgS', massFraction: 0.3 },
  { formula: 'CaCO3', massFraction: 0.1 },
]);

const BODIES: Record<Case, Body> = {
  mixture: { kind: 'bulk', composition: MIXTURE },
  coated: { kind: 'stack', layers: [coat('gold-palladium', 8), thick('Cu2CO3(OH)2')] },
  film: { kind: 'stack', layers: [coat('carbon', 15), layerOf(of('TiO2', 4.2), 0.3), thick('SiO2')] },
  grain: {
    kind: 'grain',
    grain: of('Fe2O3', 5.2),
    diameterUm: 2,
    surrounding: of('C21H24O4', 1.2),
    coats: [coat('carbon', 15)],
  },
  rate: { kind: 'bulk', composition: massFractionsOf('ZnS') },
  perturbed: { kind: 'bulk', composition: massFractionsOf('CaFeSi2O6') },
  'fine axis': { kind: 'bulk', composition: massFractionsOf('As2S3') },
  'counted elsewhere': { kind: 'bulk', composition: massFractionsOf('CaSO4') },
  expected: { kind: 'bulk', composition: MIXTURE },
};

export function simulatedText(which: Case, seed: number): string {
  const usual: SimulationConditions = { beamKev: 20, seed, totalCounts: 250_000 };
  const ratios = { seed, lineRatio: 0.05, family: 0.1, attenuation: 0.05, continuum: 0.06, gain: 1e-3 };
  const shapes = {
    mostKBetaShiftEv: 3,
    mostKBetaWidth: 0.03,
    mostSoftKBeta: 0.5,
    mostSatellite: 0.08,
    softShiftEv: 2,
    softWidth: 0.03,
    radiativeAuger: 0.7,
  };
  const others = {
    wiggle: 0.015,
    mostDetectorAluminium: 5e-4,
    mostDetectorSilicon: 1.5e-3,
    phases: 1.5,
    mostSumShiftEv: 9,
  };
  const conditions: Partial<Record<Case, SimulationConditions>> = {
    rate: { beamKev: 15, seed, liveTimeS: 60, probeCurrentNa: 0.5, solidAngleSr: 0.01, zeroPeakCounts: 1e4 },
    perturbed: { ...usual, perturb: { ...ratios, ...shapes, ...others } },
    'counted elsewhere': { ...usual, countedOn: { offsetEv: -100, gainEv: 9.7 } },
    'fine axis': { ...usual, axis: { offsetEv: -95.5, gainEv: 2.5 }, channels: 8192 },
    expected: { ...usual, seed: null },
  };
  return writeEmsa(simulate({ body: BODIES[which], title: which }, conditions[which] ?? usual));
}

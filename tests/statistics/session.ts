// An invented session of one instrument: its axis is not the header's and drifts, its detector is noisier than usual, its physics is bent.
import { DEFAULT_DETECTOR } from '../../packages/core/src/detector/detector.ts';
import type { TimedEstimate } from '../../packages/core/src/fit/shared-instrument.ts';
import { readInstrument } from '../../packages/core/src/reading/instrument.ts';
import { randomStream } from '../../packages/core/src/simulate/random.ts';
import { simulate } from '../../packages/core/src/simulate/simulate.ts';
import type { EnergyAxis, Spectrum } from '@limner/core';
import { BENT } from './grains.ts';

const HEADER: EnergyAxis = { offsetEv: 0, gainEv: 10 };
/** Usual grains, in a resin that brings carbon and oxygen. */
const GRAINS = [
  'PbCO3',
  'HgS',
  'CaCO3',
  'BaSO4',
  'ZnO',
  'Fe2O3',
  'CuCO3',
  'SiO2',
  'KAlSi3O8',
  'Pb2SnO4',
  'Na2Al2SiS2O8',
  'TiO2',
];

export interface SessionSpectrum {
  readonly spectrum: Spectrum;
  /** Where its axis truly was. */
  readonly axis: EnergyAxis;
  readonly composition: string;
  /** -1 to 1. */
  readonly time: number;
}

export interface SessionPlan {
  readonly seed: number;
  readonly spectra: number;
  readonly totalCounts: number;
  /** Drift of the offset over half the session, eV. */
  readonly driftEv: number;
}

/** Spectra of an invented session, all of this many counts, in order of time. */
export function sessionOf({ seed, spectra, totalCounts, driftEv }: SessionPlan): SessionSpectrum[] {
  const random = randomStream(seed, 3);
  const offset = 8 * (2 * random.uniform() - 1);
  const gain = 1 + 0.002 * (2 * random.uniform() - 1);
  const detector = { ...DEFAULT_DETECTOR, noiseEv: 45 + 25 * random.uniform() };
  return Array.from({ length: spectra }, (_, i) => {
    const time = spectra > 1 ? (2 * i) / (spectra - 1) - 1 : 0;
    const axis = { offsetEv: HEADER.offsetEv + offset + driftEv * time, gainEv: HEADER.gainEv * gain };
    const composition = GRAINS[Math.floor(random.uniform() * GRAINS.length)];
    const medium = 0.15 + 0.3 * random.uniform();
    const parts = [
      { formula: 'C10H12O3', massFraction: medium },
      { formula: composition, massFraction: 1 - medium },
    ];
    const simulated = simulate(
      { composition: parts },
      {
        beamKev: 20,
        takeOffDeg: 40,
        totalCounts,
        detector,
        axis,
        liveTimeS: 60,
        seed: seed + i,
        perturb: { ...BENT, seed, noise: 0, offsetEv: 0, gain: 0 },
      },
    );
    return { spectrum: { ...simulated, axis: HEADER }, axis, composition, time };
  });
}

export interface AxisError {
  readonly at2keV: number;
  readonly at6keV: number;
}

/** How far a settled axis lies from the true one at 2 and 6 keV, eV. */
export function axisError({ axis }: SessionSpectrum, settled: EnergyAxis): AxisError {
  const at = (energyEv: number): number => {
    const channel = (energyEv - axis.offsetEv) / axis.gainEv;
    return settled.offsetEv + settled.gainEv * channel - energyEv;
  };
  return { at2keV: at(2000), at6keV: at(6000) };
}

/** Every spectrum's own word on the instrument. */
export function estimatesOf(session: readonly SessionSpectrum[]): TimedEstimate[] {
  return session.map(({ spectrum, time }) => ({ estimate: readInstrument(spectrum), time }));
}

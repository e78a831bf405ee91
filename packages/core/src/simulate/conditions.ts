import type { MassFractions } from '../atomic/composition.ts';
import { massFractionsOf, mixture } from '../atomic/composition.ts';
import { MAX_Z } from '../atomic/elements.ts';
import { DEFAULT_DETECTOR, type Detector } from '../detector/detector.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import type { Perturbation } from './perturb.ts';

/** A thick, flat, homogeneous specimen. */
export interface Specimen {
  /** Mass fractions by atomic number, a formula ('2PbCO3*Pb(OH)2'), or parts of a mixture. */
  readonly composition: MassFractions | string | readonly { readonly formula: string; readonly massFraction: number }[];
  readonly title?: string;
}

/** How it is measured. Either `totalCounts`, or live time, probe current and solid angle. */
export interface SimulationConditions {
  /** Beam energy, keV, 1 to 50. */
  readonly beamKev: number;
  /** Elevation of the detector above the surface, degrees; 40. */
  readonly takeOffDeg?: number;
  readonly detector?: Detector;
  /** 16 to 65536; 2048. */
  readonly channels?: number;
  /** 0 eV and 10 eV per channel. */
  readonly axis?: EnergyAxis;
  /** Expected counts in the whole spectrum, zero peak apart. */
  readonly totalCounts?: number;
  readonly liveTimeS?: number;
  readonly probeCurrentNa?: number;
  readonly solidAngleSr?: number;
  /** Seed of the counting noise; null for the expected counts themselves. */
  readonly seed: number | null;
  /** Recorded sums of two photons as part of all counts; 0.004. */
  readonly pileUp?: number;
  /** Counts of a zero peak (noise triggers at 0 eV); 0. */
  readonly zeroPeakCounts?: number;
  readonly perturb?: Perturbation;
}

/** Elementary charge, C: electrons per nA s. */
const ELECTRONS_PER_NC = 1e-9 / 1.602176634e-19;

/** Conditions with defaults filled in. `dose` is electrons times steradian, null where the total is given instead. */
export interface Setup {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  readonly detector: Detector;
  readonly channels: number;
  readonly axis: EnergyAxis;
  readonly totalCounts: number | null;
  readonly dose: number | null;
  readonly pileUp: number;
  readonly zeroPeakCounts: number;
}

/** @throws RangeError naming the condition that makes no sense */
export function setupFrom(conditions: SimulationConditions): Setup {
  const { beamKev, takeOffDeg = 40, channels = 2048, pileUp = 0.004, zeroPeakCounts = 0 } = conditions;
  const { axis = { offsetEv: 0, gainEv: 10 }, detector = DEFAULT_DETECTOR, seed } = conditions;
  within('Beam energy in keV', beamKev, 1, 50);
  within('Take-off angle in degrees', takeOffDeg, 1, 90);
  within('Channels', channels, 16, 65536);
  if (!Number.isInteger(channels)) throw new RangeError(`Channels must be a whole number, not ${channels}.`);
  within('Gain in eV per channel', axis.gainEv, 0.1, 1000);
  within('Offset in eV', axis.offsetEv, -1e5, 1e5);
  within('Pile-up', pileUp, 0, 0.3);
  within('Zero peak counts', zeroPeakCounts, 0, 1e12);
  if (seed !== null && !Number.isSafeInteger(seed))
    throw new RangeError(`The seed must be a whole number or null, not ${seed}.`);
  return {
    beamEv: beamKev * 1000,
    takeOffDeg,
    detector,
    channels,
    axis,
    pileUp,
    zeroPeakCounts,
    ...amount(conditions),
  };
}

function amount({ totalCounts, liveTimeS, probeCurrentNa, solidAngleSr }: SimulationConditions): {
  totalCounts: number | null;
  dose: number | null;
} {
  if (totalCounts !== undefined) {
    within('Total counts', totalCounts, 0, 1e12);
    return { totalCounts, dose: null };
  }
  if (liveTimeS === undefined || probeCurrentNa === undefined || solidAngleSr === undefined) {
    throw new RangeError('Give totalCounts, or all of liveTimeS, probeCurrentNa and solidAngleSr.');
  }
  within('Live time in s', liveTimeS, 0, 1e7);
  within('Probe current in nA', probeCurrentNa, 0, 1e5);
  within('Solid angle in sr', solidAngleSr, 0, 2 * Math.PI);
  return { totalCounts: null, dose: liveTimeS * probeCurrentNa * ELECTRONS_PER_NC * solidAngleSr };
}

function within(what: string, value: number, least: number, most: number): void {
  if (!(value >= least && value <= most)) throw new RangeError(`${what} must be ${least} to ${most}, not ${value}.`);
}

/** @throws RangeError or SyntaxError where the composition cannot be used */
export function compositionOf({ composition }: Specimen): MassFractions {
  if (typeof composition === 'string') return massFractionsOf(composition);
  if (!(composition instanceof Float64Array)) return mixture(composition);
  const sum = composition.reduce((a, b) => a + b, 0);
  const sound =
    composition.length === MAX_Z + 1 && composition.every((value) => value >= 0) && Math.abs(sum - 1) < 1e-6;
  if (!sound) throw new RangeError(`Mass fractions must be ${MAX_Z + 1} numbers of 0 or more that sum to 1.`);
  return composition;
}

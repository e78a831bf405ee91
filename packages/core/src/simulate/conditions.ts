import { DEFAULT_DETECTOR, type Detector } from '../detector/detector.ts';
import { DEFAULT_PILE_UP, type PileUp } from '../detector/pile-up.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import type { Perturbation } from './perturb.ts';

/**
 * How it is measured. Either `totalCounts`, or live time, probe current and solid angle; with `totalCounts` a live time only
 * sets the rate, and so the pile-up.
 */
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
  /**
   * Axis on which the electronics counted, where `axis` is one that software made of it: counts are then shared out among the channels of
   * `axis` and rounded, and scatter less than Poisson counts. Left out: counted on `axis`.
   */
  readonly countedOn?: EnergyAxis;
  /** Expected counts in the whole spectrum, zero peak apart. */
  readonly totalCounts?: number;
  readonly liveTimeS?: number;
  readonly probeCurrentNa?: number;
  readonly solidAngleSr?: number;
  /** Seed of the counting noise; null for the expected counts themselves. */
  readonly seed: number | null;
  /**
   * Sums of photons that arrive together: how well the electronics tell two apart (needs a live time), or recorded sums as
   * part of all counts. Left out: DEFAULT_PILE_UP where there is a live time, else a part of 0.004.
   */
  readonly pileUp?: PileUp | number;
  /** Counts of a zero peak (noise triggers at 0 eV); 0. */
  readonly zeroPeakCounts?: number;
  readonly perturb?: Perturbation;
}

/** Elementary charge, C: electrons per nA s. */
const ELECTRONS_PER_NC = 1e-9 / 1.602176634e-19;
const DEFAULT_PART_OF_SUMS = 0.004;

/** Conditions with defaults filled in. `dose` is electrons times steradian, null where the total is given instead. */
export interface Setup {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  readonly detector: Detector;
  readonly channels: number;
  readonly axis: EnergyAxis;
  /** Axis on which counts are drawn, and its channels; not `axis` where it was asked for. */
  readonly counted: { readonly axis: EnergyAxis; readonly channels: number };
  readonly totalCounts: number | null;
  readonly dose: number | null;
  readonly liveTimeS: number | null;
  readonly pileUp: PileUp | number;
  readonly zeroPeakCounts: number;
}

/** @throws RangeError naming the condition that makes no sense */
export function setupFrom(conditions: SimulationConditions): Setup {
  const { beamKev, takeOffDeg = 40, channels = 2048, zeroPeakCounts = 0, liveTimeS = null } = conditions;
  const { axis = { offsetEv: 0, gainEv: 10 }, detector = DEFAULT_DETECTOR, countedOn, seed } = conditions;
  within('Beam energy in keV', beamKev, 1, 50);
  within('Take-off angle in degrees', takeOffDeg, 1, 90);
  within('Channels', channels, 16, 65536);
  if (!Number.isInteger(channels)) throw new RangeError(`Channels must be a whole number, not ${channels}.`);
  for (const { gainEv, offsetEv } of [axis, countedOn ?? axis]) {
    within('Gain in eV per channel', gainEv, 0.1, 1000);
    within('Offset in eV', offsetEv, -1e5, 1e5);
  }
  within('Zero peak counts', zeroPeakCounts, 0, 1e12);
  checkDetector(detector);
  if (liveTimeS !== null) within('Live time in s', liveTimeS, 0, 1e7);
  if (seed !== null && !Number.isSafeInteger(seed))
    throw new RangeError(`The seed must be a whole number or null, not ${seed}.`);
  return {
    beamEv: beamKev * 1000,
    takeOffDeg,
    detector,
    channels,
    axis,
    counted:
      countedOn === undefined
        ? { axis, channels }
        : { axis: countedOn, channels: channelsTo(axis, channels, countedOn) },
    liveTimeS,
    pileUp: pileUpOf(conditions.pileUp, liveTimeS),
    zeroPeakCounts,
    ...amount(conditions),
  };
}

/** Channels of one axis that reach as far as those of another. */
function channelsTo(axis: EnergyAxis, channels: number, countedOn: EnergyAxis): number {
  const endEv = axis.offsetEv + axis.gainEv * (channels - 0.5);
  const needed = Math.ceil((endEv - countedOn.offsetEv) / countedOn.gainEv + 0.5);
  within('Channels of the axis counted on', needed, 16, 65536);
  return needed;
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
  within('Probe current in nA', probeCurrentNa, 0, 1e5);
  within('Solid angle in sr', solidAngleSr, 0, 2 * Math.PI);
  return { totalCounts: null, dose: liveTimeS * probeCurrentNa * ELECTRONS_PER_NC * solidAngleSr };
}

function pileUpOf(given: PileUp | number | undefined, liveTimeS: number | null): PileUp | number {
  if (given === undefined) return liveTimeS === null ? DEFAULT_PART_OF_SUMS : DEFAULT_PILE_UP;
  if (typeof given === 'number') {
    within('Pile-up', given, 0, 0.3);
    return given;
  }
  if (liveTimeS === null) throw new RangeError('Pile-up by resolving time needs a rate: give liveTimeS.');
  within('Resolving time in s', given.resolvingTimeS, 0, 1e-3);
  within('Blind time in s', given.blindTimeS, 0, 1e-3);
  within('Threshold of the fast channel in eV', given.fastThresholdEv, 0, 1e5);
  within('Noise of the fast channel in eV', given.fastNoiseEv, 1, 1e4);
  return given;
}

const PARTS: readonly (keyof Detector)[] = ['openFraction', 'surfaceLoss', 'deepTail', 'shelf'];
const ABOVE_ZERO: readonly (keyof Detector)[] = ['thicknessMm', 'fano', 'pairEv'];

function checkDetector(detector: Detector): void {
  for (const [field, value] of Object.entries(detector) as [keyof Detector, unknown][]) {
    if (typeof value !== 'number') continue;
    within(`The detector's ${field}`, value, ABOVE_ZERO.includes(field) ? 1e-6 : 0, PARTS.includes(field) ? 1 : 1e5);
  }
}

function within(what: string, value: number, least: number, most: number): void {
  if (!(value >= least && value <= most)) throw new RangeError(`${what} must be ${least} to ${most}, not ${value}.`);
}

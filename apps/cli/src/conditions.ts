import {
  DEFAULT_PILE_UP,
  type Detector,
  type DetectorName,
  DETECTORS,
  type PileUp,
  type SimulationConditions,
  withResolution,
} from '@limner/core';
import { UsageError } from './io.ts';
import { axisValue, beamValue, nameValue, numberValue, wholeValue } from './values.ts';

/** Options that say how a simulated spectrum is measured. */
export interface ConditionFlags {
  readonly beam?: string;
  readonly counts?: string;
  readonly live?: string;
  readonly current?: string;
  readonly solidAngle?: string;
  readonly takeOff?: string;
  readonly detector?: string;
  readonly resolution?: string;
  readonly resolving?: string;
  readonly zeroPeak?: string;
  readonly axis?: string;
  readonly channels?: string;
  readonly seed?: string;
  readonly noise: boolean;
}

/** keV, as typed. */
export const DEFAULT_BEAM = '20';
export const DEFAULT_COUNTS = 250_000;
export const DEFAULT_SEED = 1;
export const DETECTOR_NAMES = Object.keys(DETECTORS) as DetectorName[];

/** @throws UsageError */
export function conditionsFrom(flags: ConditionFlags): SimulationConditions {
  const { takeOff, channels, axis, zeroPeak } = flags;
  if (!flags.noise && flags.seed !== undefined) throw new UsageError('simulate: give --seed or --no-noise, not both');
  return {
    beamKev: beamWithin(flags.beam ?? DEFAULT_BEAM),
    seed: flags.noise ? seedFrom(flags.seed) : null,
    detector: detectorFrom(flags),
    ...amountFrom(flags),
    ...(takeOff !== undefined && { takeOffDeg: numberValue('--take-off', takeOff, 'degrees', 1, 90) }),
    ...(channels !== undefined && { channels: wholeValue('--channels', channels, '', 16, 65_536) }),
    ...(axis !== undefined && { axis: axisValue('--axis', axis) }),
    ...(zeroPeak !== undefined && { zeroPeakCounts: numberValue('--zero-peak', zeroPeak, 'counts', 0, 1e12) }),
  };
}

function beamWithin(text: string): number {
  const kev = beamValue('--beam', text);
  if (kev >= 1 && kev <= 50) return kev;
  throw new UsageError(`--beam ${text}: the simulator covers 1 to 50 keV`);
}

const seedFrom = (text: string | undefined): number =>
  text === undefined ? DEFAULT_SEED : wholeValue('--seed', text, '', 0, Number.MAX_SAFE_INTEGER);

function detectorFrom({ detector, resolution }: ConditionFlags): Detector {
  const preset: Detector =
    DETECTORS[detector === undefined ? 'drift-polymer' : nameValue('--detector', detector, DETECTOR_NAMES)];
  if (resolution === undefined) return preset;
  const wanted = numberValue('--resolution', resolution, 'eV', 100, 500);
  const found = withResolution(preset, wanted);
  if (found.noiseEv > 0) return found;
  throw new UsageError(`--resolution ${resolution}: no silicon detector resolves that well; give 121 eV or more`);
}

function amountFrom(flags: ConditionFlags): Partial<SimulationConditions> {
  const { counts, live, current, solidAngle, resolving } = flags;
  if (resolving !== undefined && live === undefined)
    throw new UsageError('simulate: --resolving needs a count rate; give --live too');
  const rate = {
    ...(live !== undefined && { liveTimeS: numberValue('--live', live, 's', 0.001, 1e7) }),
    ...(current !== undefined && { probeCurrentNa: numberValue('--current', current, 'nA', 1e-6, 1e5) }),
    ...(solidAngle !== undefined && { solidAngleSr: numberValue('--solid-angle', solidAngle, 'sr', 1e-6, 6.28) }),
    ...(resolving !== undefined && { pileUp: electronics(numberValue('--resolving', resolving, 'ns', 1, 1e5)) }),
  };
  const dose = current !== undefined || solidAngle !== undefined;
  if (!dose) return { totalCounts: numberValue('--counts', counts ?? String(DEFAULT_COUNTS), '', 1, 1e12), ...rate };
  if (counts !== undefined || live === undefined || current === undefined || solidAngle === undefined)
    throw new UsageError('simulate: give --counts, or all of --live, --current and --solid-angle');
  return rate;
}

/** Electronics as usual, but slower or faster. */
function electronics(resolvingNs: number): PileUp {
  const factor = (resolvingNs * 1e-9) / DEFAULT_PILE_UP.resolvingTimeS;
  return {
    ...DEFAULT_PILE_UP,
    resolvingTimeS: DEFAULT_PILE_UP.resolvingTimeS * factor,
    blindTimeS: DEFAULT_PILE_UP.blindTimeS * factor,
  };
}

import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import type { Instrument } from '../model/instrument.ts';
import type { InstrumentKnowledge } from '../model/instrument-knowledge.ts';
import type { InstrumentPrior, NuisanceKind } from '../model/nuisances.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** What is known of the instrument before the fit: the header's axis, and the noise read off the strongest peaks. */
export interface StatedInstrument {
  readonly axis: EnergyAxis;
  /** Electronic noise as FWHM, eV, and its uncertainty where it is larger than usual. */
  readonly noiseEv: number;
  readonly noiseSigmaEv?: number;
  /** What other spectra of the session told; the axis and noise above are then theirs. */
  readonly known?: InstrumentKnowledge | null;
}

/** Header axes were seen right within 6 eV and 0.3 % (0.4 % once), and may be worse; resolution starts from the sharpest strong peak. */
const OFFSET_SIGMA_EV = 12;
const GAIN_SIGMA = 0.003;
const NOISE_SIGMA_EV = 8;
const FANO_SIGMA = 0.03;

/** Prior on the moves from the present instrument: what was stated stays where it is, lest the axis creeps from round to round. */
export function instrumentPrior(stated: StatedInstrument, now: Instrument): InstrumentPrior {
  const { known } = stated;
  const gain = stated.axis.gainEv / now.axis.gainEv - 1;
  const noise = stated.noiseEv - now.detector.noiseEv;
  const fano = known?.fano ?? { mean: DEFAULT_DETECTOR.fano, sigma: FANO_SIGMA * DEFAULT_DETECTOR.fano };
  const fanoMove = { mean: fano.mean / now.detector.fano - 1, sigma: fano.sigma / fano.mean };
  const offset = stated.axis.offsetEv - now.axis.offsetEv;
  if (!known) {
    return {
      offset: { mean: offset, sigma: OFFSET_SIGMA_EV },
      gain: { mean: gain, sigma: GAIN_SIGMA },
      noise: { mean: noise, sigma: Math.max(NOISE_SIGMA_EV, stated.noiseSigmaEv ?? 0) },
      fano: fanoMove,
    };
  }
  const { pivotEv, positionSigmaEv, gainSigma, artefacts, taught } = known;
  return {
    offset: { mean: offset - gain * (now.axis.offsetEv - pivotEv), sigma: positionSigmaEv },
    gain: { mean: gain, sigma: gainSigma },
    noise: { mean: noise, sigma: known.noiseEv.sigma },
    fano: fanoMove,
    pivotEv,
    artefacts,
    ratios: taught.ratios,
  };
}

/** Standard uncertainties that are usual of an instrument of which nothing more is known. */
export const USUAL = {
  offsetEv: OFFSET_SIGMA_EV,
  gain: GAIN_SIGMA,
  noiseEv: NOISE_SIGMA_EV,
  fano: FANO_SIGMA,
} as const;

/** How far an axis lies from the stated one, in prior standard deviations of offset and gain. */
export function axisStrain(stated: EnergyAxis, now: EnergyAxis): number {
  const offset = Math.abs(now.offsetEv - stated.offsetEv) / OFFSET_SIGMA_EV;
  const gain = Math.abs(now.gainEv / stated.gainEv - 1) / GAIN_SIGMA;
  return Math.max(offset, gain);
}

/** The stated axis moved by so many prior standard deviations of offset and gain. */
export function strainedAxis({ offsetEv, gainEv }: EnergyAxis, offset: number, gain: number): EnergyAxis {
  return { offsetEv: offsetEv + offset * OFFSET_SIGMA_EV, gainEv: gainEv * (1 + gain * GAIN_SIGMA) };
}

/** Largest moves taken at once: the model is linear in them over about that much. */
const LARGEST = { offset: 15, gain: 0.003, noise: 10, fano: 0.03 };
const LEAST_NOISE_EV = 10;

type Move = Extract<NuisanceKind, 'offset' | 'gain' | 'noise' | 'fano'>;

/**
 * The instrument moved by fitted coefficients: position at the pivot and noise in eV, gain about the pivot and Fano factor relative.
 * @param pivotEv channel 0's energy when absent
 */
export function movedInstrument(
  { axis, detector }: Instrument,
  by: (kind: Move) => number,
  pivotEv: number = axis.offsetEv,
): Instrument {
  const move = (kind: Move): number => Math.min(LARGEST[kind], Math.max(-LARGEST[kind], by(kind)));
  const gain = move('gain');
  return {
    axis: {
      offsetEv: axis.offsetEv + move('offset') + gain * (axis.offsetEv - pivotEv),
      gainEv: axis.gainEv * (1 + gain),
    },
    detector: {
      ...detector,
      noiseEv: Math.max(LEAST_NOISE_EV, detector.noiseEv + move('noise')),
      fano: detector.fano * (1 + move('fano')),
    },
  };
}

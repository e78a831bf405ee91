import type { StatedInstrument } from '../fit/instrument-prior.ts';
import { fittedElements, type FittedElement } from '../fit/fitted-elements.ts';
import { channelMisfit, misfitOf, type ChannelMisfit, type Misfit } from '../fit/quality.ts';
import { instrumentOf, type SpectrumFit } from '../fit/spectrum-fit.ts';
import { Work } from '../fit/work.ts';
import { lacksContinuum } from '../peaks/sparse-continuum.ts';
import type { EnergyAxis, Spectrum } from '../spectrum/spectrum.ts';
import { settledContender, type Contender, type ExplainConditions } from './contender.ts';
import { contest, type Contest } from './contest.ts';
import { nextStart } from './converge.ts';
import { decide } from './decide.ts';
import { excitationOf, type Excitation } from './excitation.ts';
import type { LeaveOneOut } from './leave-one-out.ts';
import { partsOf, type Part } from './ledger.ts';
import { partedStart } from './merged.ts';
import { isHopeless, type Frame, type Round } from './state.ts';
import { axisStanding, settledOnRightAxis, type AxisStanding } from './wrong-axis.ts';

/** A spectrum explained: the settled round, and what stayed fixed. */
export interface Explanation {
  readonly frame: Frame;
  /** Z of each candidate, aligned with the problem's element indices. */
  readonly candidates: readonly number[];
  /** The instrument as stated beforehand. */
  readonly stated: StatedInstrument;
  readonly round: Round;
  /** The explanation's elements fitted by maximum likelihood. */
  readonly fit: SpectrumFit;
  /** What the fit says of each of them, by atomic number. */
  readonly fitted: ReadonlyMap<number, FittedElement>;
  /** The model split into its parts. */
  readonly parts: readonly Part[];
  readonly channels: ChannelMisfit;
  readonly misfit: Misfit;
  /** What became of leaving each member out, by element index. */
  readonly leaveOuts: ReadonlyMap<number, LeaveOneOut>;
  /** The counts are better explained behind a thick detector window: nothing soft is seen. */
  readonly thickWindow: boolean;
  /** Whether the stated axis held. */
  readonly axisStanding: AxisStanding;
  /** What the continuum and the beam say of how the lines were excited. */
  readonly excitation: Excitation;
  readonly rounds: number;
  /** The set of elements settled, and the fit converged. */
  readonly converged: boolean;
  /** The work that a reading may cost was spent before its end: what stood then is told. */
  readonly unfinished: boolean;
}

/** Explains a spectrum: settles axis, resolution, window, composition and the set of elements, and decides by maximum likelihood. */
export function explain(spectrum: Spectrum, conditions: ExplainConditions): Explanation {
  const { counts, axis } = spectrum;
  if (lacksContinuum(counts, axis, conditions.beamEv)) return photonExcited(spectrum, conditions);
  const under = { ...conditions, work: conditions.work ?? new Work() };
  return concluded(settledOnRightAxis(spectrum, under), axis, under);
}

/** What a spectrum may cost that electrons did not make: its plain peaks are found with that, or never (as for {@link Work}). */
const PHOTON_WORK = 3e9;

/** No other axis is looked for: none brings the continuum back that X-rays do not make. */
function photonExcited(spectrum: Spectrum, conditions: ExplainConditions): Explanation {
  const under = { ...conditions, work: conditions.work ?? new Work(PHOTON_WORK) };
  const explanation = concluded(settledContender(spectrum, under), spectrum.axis, under);
  return { ...explanation, axisStanding: 'stated', excitation: 'photons' };
}

/** Misfit (C per channel) from which no comparison of fits says anything. */
const FAR_MISFIT = 3;
const isNear = ({ range }: Frame, { c }: Round): boolean => c < FAR_MISFIT * (range.hi - range.lo);
/** Counts that the model does not know are not worth a fit to its very end. */
const BRIEF_FIT = { maxExpansions: 1, maxIterations: 10 };

/**
 * Contests the settled explanation and decides by maximum likelihood.
 * @param axis as stated in the file
 */
function concluded(
  { frame: merged, candidates, stated, merging, whole, thickWindow, settled }: Contender,
  axis: EnergyAxis,
  { instrument, compared = true }: ExplainConditions,
): Explanation {
  const start = { ...settled.start, relativeError: 0 };
  const { frame } = whole;
  const mayCompare = compared && isNear(merged, settled.round);
  // What is read for its instrument alone needs no contest: which of two like elements it is moves no axis.
  const contested: Contest = compared
    ? contest({ frame: merged, candidates, start, stated, compared: mayCompare }, settled.round)
    : { round: settled.round, takeOvers: 0 };
  const {
    fit,
    round,
    leaveOuts,
    settled: decided,
  } = decide({
    frame,
    candidates,
    stated: whole.stated,
    start: partedStart(nextStart(settled.start, contested.round, stated), merged, frame, whole.stated, merging),
    round: contested.round,
    options: frame.work?.isSpent || isHopeless(merged, contested.round) ? BRIEF_FIT : {},
    compared: compared && !frame.work?.isSpent && isNear(merged, contested.round),
  });
  const channels = channelMisfit(frame, fit.expected);
  const misfit = misfitOf(frame, fit, channels);
  const converged = decided && fit.converged;
  return {
    frame,
    candidates,
    stated: whole.stated,
    round,
    fit,
    fitted: fittedElements(frame, fit, channels),
    parts: partsOf(frame, fit),
    channels,
    misfit,
    leaveOuts,
    thickWindow,
    axisStanding: instrument
      ? 'stated'
      : axisStanding(axis, instrumentOf(fit).axis, misfit.c / misfit.expected, converged),
    excitation: excitationOf(frame.beamEv, fit),
    rounds: settled.rounds + contested.takeOvers,
    converged,
    unfinished: frame.work?.isSpent ?? false,
  };
}

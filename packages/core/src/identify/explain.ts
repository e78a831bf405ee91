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
import { decide, type Proposal, proposedFit } from './decide.ts';
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
  const { contender, work, byPhotons } = settledFor(spectrum, conditions);
  const explanation = concluded(contender, spectrum.axis, { ...conditions, work });
  return byPhotons ? { ...explanation, axisStanding: 'stated', excitation: 'photons' } : explanation;
}

/**
 * What a spectrum says of its instrument: its fit, without asking what else could stand in each element's place. Which of two like
 * elements it is moves no axis.
 */
export function explainInstrument(
  spectrum: Spectrum,
  conditions: ExplainConditions,
): Pick<Explanation, 'fit' | 'thickWindow'> {
  const { contender } = settledFor(spectrum, conditions);
  const fit = proposedFit(proposalOf(contender, contender.settled.round, false));
  return { fit, thickWindow: contender.thickWindow };
}

/** What a spectrum may cost that electrons did not make: its plain peaks are found with that, or never (as for {@link Work}). */
const PHOTON_WORK = 3e9;

/** A spectrum settled, what it may cost, and whether X-rays excited it: no other axis brings the continuum back that they do not make. */
function settledFor(
  spectrum: Spectrum,
  conditions: ExplainConditions,
): { readonly contender: Contender; readonly work: Work; readonly byPhotons: boolean } {
  const byPhotons = lacksContinuum(spectrum.counts, spectrum.axis, conditions.beamEv);
  const work = conditions.work ?? (byPhotons ? new Work(PHOTON_WORK) : new Work());
  const settle = byPhotons ? settledContender : settledOnRightAxis;
  return { contender: settle(spectrum, { ...conditions, work }), work, byPhotons };
}

/** Misfit (C per channel) from which no comparison of fits says anything. */
const FAR_MISFIT = 3;
const isNear = ({ range }: Frame, { c }: Round): boolean => c < FAR_MISFIT * (range.hi - range.lo);
/** Counts that the model does not know are not worth a fit to its very end. */
const BRIEF_FIT = { maxExpansions: 1, maxIterations: 10 };

/** A round of a settled spectrum, proposed for single channels. */
function proposalOf(
  { frame: merged, candidates, stated, merging, whole, settled }: Contender,
  round: Round,
  compared: boolean,
): Proposal {
  const { frame } = whole;
  return {
    frame,
    candidates,
    stated: whole.stated,
    start: partedStart(nextStart(merged, settled.start, round, stated), merged, frame, whole.stated, merging),
    round,
    options: frame.work?.isSpent || isHopeless(merged, round) ? BRIEF_FIT : {},
    compared: compared && !frame.work?.isSpent && isNear(merged, round),
  };
}

/**
 * Contests the settled explanation and decides by maximum likelihood.
 * @param axis as stated in the file
 */
function concluded(
  contender: Contender,
  axis: EnergyAxis,
  { instrument, compared = true }: ExplainConditions,
): Explanation {
  const { frame: merged, candidates, stated, whole, thickWindow, settled } = contender;
  const start = { ...settled.start, relativeError: 0 };
  const { frame } = whole;
  const mayCompare = compared && isNear(merged, settled.round);
  // What would take the place of elements that are left out is only proposed.
  const contested: Contest = compared
    ? contest({ frame: merged, candidates, start, stated, compared: mayCompare }, settled.round)
    : { round: settled.round, takeOvers: 0 };
  const { fit, round, leaveOuts, settled: decided } = decide(proposalOf(contender, contested.round, compared));
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

import { LINE_TABLE } from '../atomic/lines.ts';
import { DEFAULT_DETECTOR, type Detector } from '../detector/detector.ts';
import { detectorFromHeader } from '../detector/from-header.ts';
import type { StatedInstrument } from '../fit/instrument-prior.ts';
import type { Work } from '../fit/work.ts';
import { efficiencyTable } from '../model/efficiency-table.ts';
import { emissionUnder } from '../model/emission.ts';
import type { InstrumentKnowledge } from '../model/instrument-knowledge.ts';
import { lineAreas } from '../model/templates.ts';
import { fitRange } from '../peaks/fit-range.ts';
import { startingNoise } from '../peaks/resolution-start.ts';
import { mayHaveThickWindow } from '../peaks/window.ts';
import type { EnergyAxis, Spectrum } from '../spectrum/spectrum.ts';
import { CANDIDATE_ELEMENTS, MOUNT_PENALTY, priorPenalty, SOFT_FAMILY_PENALTY } from './candidates.ts';
import { settleAxis } from './converge-axis.ts';
import type { Settled } from './converge.ts';
import { firstPlace } from './first-start.ts';
import type { RoundStart } from './round.ts';
import { MERGED_EV, mergedFrame, mergedStated, mergingOf } from './merged.ts';
import type { Frame } from './state.ts';
import { isSoftFamily } from './thresholds.ts';

export interface ExplainConditions {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  /** Elements that may not be used (atomic numbers). */
  readonly without?: readonly number[];
  /** Elements that the mounting may add: their prior odds are higher. */
  readonly mounted?: ReadonlySet<number>;
  /** Whether elements are compared with their rivals by full fits, as verdicts need it; true. */
  readonly compared?: boolean;
  /** What other spectra of the session tell of the instrument. */
  readonly instrument?: InstrumentKnowledge | null;
  /** Whether a settling is given up once the model is far from the counts; false. */
  readonly brief?: boolean;
  readonly work?: Work | undefined;
  /** How many channels are merged into one for settling, whatever axis is tried; as the spectrum's own axis has it. */
  readonly merging?: number;
}

/** Where no peak is strong enough to tell: today's detectors lie within this of the default (common practice, no source). */
const UNKNOWN_NOISE = { noiseEv: DEFAULT_DETECTOR.noiseEv, sigmaEv: 15 };

/** A thick window: as the header states it, or a common one (common practice, no source: 7 to 25 um of beryllium). */
function thickWindow({ detector }: Spectrum): { readonly window: Partial<Detector>; readonly stated: boolean } {
  const { window, windowUm } = detectorFromHeader(detector).detector;
  const stated = window === 'beryllium';
  return { window: { window: 'beryllium', windowUm: stated ? windowUm : 8 }, stated };
}

/** Settles a spectrum around its stated axis: window, axis, resolution, composition and set of elements, in rounds. */
export function settledContender(spectrum: Spectrum, conditions: ExplainConditions): Contender {
  const { counts, axis } = spectrum;
  const bestBehind = (humps: Humps, windows: readonly Partial<Detector>[]): Contender =>
    windows.slice(1).reduce(
      (best, window) => {
        const { merit } = best.settled.round;
        const other = contender(spectrum, conditions, humps, window, merit);
        return other.settled.round.merit < merit ? other : best;
      },
      contender(spectrum, conditions, humps, windows[0]),
    );
  const { window: behind, stated } = thickWindow(spectrum);
  const mayBeThick = mayHaveThickWindow(counts, axis);
  // Behind a thick window nothing soft gets in: a hump there is noise, however high.
  const humps = mayBeThick ? 'of any height' : true;
  const thick = conditions.instrument?.thickWindow ?? (stated && mayBeThick ? true : null);
  if (thick !== null) return bestBehind(thick && humps, thick ? [behind] : [{}]);
  if (fitRange(counts, axis, conditions.beamEv, humps).behindHump) {
    const best = bestBehind(humps, [{}, behind]);
    // Behind a thin window there is no such noise: the hump is real, and is explained with the rest. Before a flat floor it is noise.
    return best.thickWindow || mayBeThick ? best : bestBehind(false, [{}]);
  }
  // The likelier one first: the other need not be followed to its end.
  return bestBehind(false, mayBeThick ? [behind, {}] : [{}]);
}

/** What is done with a hump at the low end, as for `fitRange`. */
type Humps = Parameters<typeof fitRange>[3];

/** Settles the spectrum behind one window. @param toBeat merit behind another one, if any */
function contender(
  spectrum: Spectrum,
  conditions: ExplainConditions,
  humps: Humps,
  window: Partial<Detector>,
  toBeat = Infinity,
): Contender {
  const at = opened(spectrum, conditions, humps, window);
  const { candidates, stated, detector } = at;
  const frame = { ...at.frame, toBeat };
  return {
    ...at,
    frame,
    thickWindow: window.window === 'beryllium',
    settled: settleAxis(frame, candidates, stated, detector),
  };
}

/** What stays fixed while a spectrum is settled behind one window, its channels merged. */
export interface Opened {
  readonly frame: Frame;
  readonly candidates: readonly number[];
  readonly stated: StatedInstrument;
  readonly detector: Detector;
  /** How many channels are merged into one, and the same with all of them. */
  readonly merging: number;
  readonly whole: { readonly frame: Frame; readonly stated: StatedInstrument };
}

/** @param from first channel of the range; as `fitRange` finds it */
export function opened(
  spectrum: Spectrum,
  conditions: ExplainConditions,
  humps: Humps,
  window: Partial<Detector>,
  from?: number,
): Opened {
  const found = fitRange(spectrum.counts, spectrum.axis, conditions.beamEv, humps);
  const range = { ...found, lo: from ?? found.lo };
  const candidates = admissible(spectrum.axis, range, conditions, { ...DEFAULT_DETECTOR, ...window });
  const penalty = new Float64Array(candidates.length);
  for (let e = 0; e < penalty.length; e++) {
    const usual = priorPenalty(candidates[e]);
    penalty[e] = conditions.mounted?.has(candidates[e]) ? Math.min(MOUNT_PENALTY, usual) : usual;
  }
  const frame: Frame = {
    counts: spectrum.counts,
    range,
    beamEv: conditions.beamEv,
    takeOffDeg: conditions.takeOffDeg,
    emission: emissionUnder(conditions),
    work: conditions.work,
    brief: conditions.brief ?? false,
    penalty,
  };
  const known = conditions.instrument ?? null;
  const stated = known
    ? { axis: known.axis, noiseEv: known.noiseEv.mean, known }
    : { axis: spectrum.axis, ...readNoise(spectrum, range) };
  const detector = { ...DEFAULT_DETECTOR, ...window, ...(known && { fano: known.fano.mean, ...known.taught.layers }) };
  addSoftPenalties(penalty, frame, candidates, firstPlace(stated, detector));
  const whole = { frame, stated };
  const merging = conditions.merging ?? mergingOf(spectrum.axis, MERGED_EV);
  return {
    frame: mergedFrame(whole.frame, merging),
    candidates,
    stated: mergedStated(stated, merging),
    detector,
    merging,
    whole,
  };
}

/** Noise as the sharpest peak has it. */
function readNoise({ counts, axis }: Spectrum, range: Frame['range']): { noiseEv: number; noiseSigmaEv: number } {
  const fanoPair = DEFAULT_DETECTOR.fano * DEFAULT_DETECTOR.pairEv;
  const { noiseEv, sigmaEv } = startingNoise(counts, axis, range, fanoPair) ?? UNKNOWN_NOISE;
  return { noiseEv, noiseSigmaEv: sigmaEv };
}

/** A spectrum settled behind one window, on one axis. */
export interface Contender extends Opened {
  readonly thickWindow: boolean;
  readonly settled: Settled;
}

/** Of a line that less than this part passes the window of, a few stray counts would make more than all the rest. */
const LEAST_EFFICIENCY = 1e-4;

/** Candidates with a line that this beam excites inside the range and this window lets through. */
function admissible(
  axis: EnergyAxis,
  range: { lo: number; hi: number },
  conditions: ExplainConditions,
  detector: Detector,
): number[] {
  const efficiency = efficiencyTable(detector).lines;
  const low = axis.offsetEv + axis.gainEv * range.lo;
  const high = axis.offsetEv + axis.gainEv * range.hi;
  const without = new Set(conditions.without ?? []);
  const [from, to] = [low + 10, Math.min(high, conditions.beamEv / 1.05)];
  const admitted: number[] = [];
  for (const z of CANDIDATE_ELEMENTS) if (!without.has(z) && hasLineBetween(z, from, to, efficiency)) admitted.push(z);
  return admitted;
}

/** Whether an element has a line of some strength between two energies, eV, that the window lets through. */
function hasLineBetween(z: number, from: number, to: number, efficiency: Float64Array): boolean {
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
    const energy = LINE_TABLE.energyEv[i];
    if (efficiency[i] < LEAST_EFFICIENCY || LINE_TABLE.relative[i] <= 0.1) continue;
    if (energy > from && energy < to) return true;
  }
  return false;
}

/**
 * Elements seen by soft L or M lines alone start lower: their shapes and ratios are free enough to imitate the one soft
 * line of a common light element.
 */
function addSoftPenalties(
  penalty: Float64Array,
  frame: Frame,
  candidates: readonly number[],
  start: Pick<RoundStart, 'composition' | 'instrument'>,
): void {
  // The first round begins in the same matrix: what is worked out here serves it too.
  const wanted = new Uint8Array(LINE_TABLE.first.length);
  for (const z of candidates) wanted[z] = 1;
  const areas = lineAreas(frame.emission.lines(start.composition, wanted), start.instrument, candidates);
  for (let e = 0; e < penalty.length; e++) if (isSoftFamily(candidates[e], areas)) penalty[e] += SOFT_FAMILY_PENALTY;
}

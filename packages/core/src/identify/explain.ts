import type { MassFractions } from '../atomic/composition.ts';
import { zOf } from '../atomic/elements.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import { DEFAULT_DETECTOR, type Detector } from '../detector/detector.ts';
import { ATTENUATION_DOUBT } from '../model/continuum.ts';
import { emissionUnder } from '../model/emission.ts';
import { channelEnergies, channelOf, type Instrument } from '../model/instrument.ts';
import type { InstrumentPrior } from '../model/nuisances.ts';
import { lineAreas } from '../model/templates.ts';
import { fitRange } from '../peaks/fit-range.ts';
import { mayHaveThickWindow } from '../peaks/window.ts';
import { startingNoiseEv } from '../peaks/resolution-start.ts';
import type { EnergyAxis, Spectrum } from '../spectrum/spectrum.ts';
import { efficiency } from '../detector/efficiency.ts';
import { isSoftFamily } from './bars.ts';
import { CANDIDATE_ELEMENTS, priorPenalty, SOFT_FAMILY_PENALTY } from './candidates.ts';
import { challenge } from './challenge.ts';
import { solveRound, type RoundStart } from './round.ts';
import { isHopeless, type Frame, type Round } from './state.ts';
import type { Trial } from './trial.ts';

/** A spectrum explained: the settled round, and what stayed fixed. */
export interface Explanation {
  readonly frame: Frame;
  /** Z of each candidate, aligned with the problem's element indices. */
  readonly candidates: readonly number[];
  readonly round: Round;
  /** What became of leaving each member out, by element index. */
  readonly trials: ReadonlyMap<number, Trial>;
  readonly rounds: number;
  readonly converged: boolean;
}

export interface ExplainConditions {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  /** Elements that may not be used (atomic numbers). */
  readonly without?: readonly number[];
}

/** Relative model error granted in the first rounds, so that no wrong early choice is nailed down by huge counts. */
const ANNEALING = [0.05, 0.02, 0.008];
const MAX_ROUNDS = 9;
/** Rounds after the annealing that compete for the result. */
const MIN_ROUNDS = ANNEALING.length + 2;
/** Settled when the axis moves less than this between rounds, eV at the top of the range. */
const AXIS_TOLERANCE_EV = 0.3;

/** Header axes were seen right within 6 eV and 0.3 % (0.4 % once); resolution starts from the sharpest strong peak. */
const OFFSET_SIGMA_EV = 8;
const GAIN_SIGMA = 0.002;
const NOISE_SIGMA_EV = 8;
const FANO_SIGMA = 0.03;

/** A common thick window (common practice, no source: 7 to 25 um of beryllium). */
const THICK_WINDOW: Partial<Detector> = { window: 'beryllium', windowUm: 8 };

/** Explains a spectrum: settles axis, resolution, window, composition and the set of elements, in rounds. */
export function explain(spectrum: Spectrum, conditions: ExplainConditions): Explanation {
  const range = fitRange(spectrum.counts, spectrum.axis, conditions.beamEv);
  const candidates = admissible(spectrum.axis, range, conditions);
  const frame: Frame = {
    counts: spectrum.counts,
    range,
    beamEv: conditions.beamEv,
    takeOffDeg: conditions.takeOffDeg,
    emission: emissionUnder({ ...conditions, attenuation: 1 }),
    attenuatedEmission: emissionUnder({ ...conditions, attenuation: 1 + ATTENUATION_DOUBT }),
    penalty: Float64Array.from(candidates, priorPenalty),
  };
  const fanoPair = DEFAULT_DETECTOR.fano * DEFAULT_DETECTOR.pairEv;
  const noise = startingNoiseEv(spectrum.counts, spectrum.axis, range, fanoPair) ?? DEFAULT_DETECTOR.noiseEv;
  const explainBehind = (window: Partial<Detector>): Explanation => {
    const start = firstStart(frame, spectrum.axis, { ...DEFAULT_DETECTOR, ...window, noiseEv: noise });
    const soft = softPenalties(frame, candidates, start);
    const penalty = frame.penalty.map((value, e) => value + soft[e]);
    return settle({ ...frame, penalty }, candidates, start, { axis: spectrum.axis, noise });
  };
  if (range.thickWindow) return explainBehind(THICK_WINDOW);
  const thin = explainBehind({});
  if (!mayHaveThickWindow(spectrum.counts, spectrum.axis)) return thin;
  const thick = explainBehind(THICK_WINDOW);
  return thick.round.merit < thin.round.merit ? thick : thin;
}

/** Candidates with a line that this beam excites inside the range. */
function admissible(axis: EnergyAxis, range: { lo: number; hi: number }, conditions: ExplainConditions): number[] {
  const low = axis.offsetEv + axis.gainEv * range.lo;
  const high = axis.offsetEv + axis.gainEv * range.hi;
  const without = new Set(conditions.without ?? []);
  return CANDIDATE_ELEMENTS.filter((z) => {
    if (without.has(z)) return false;
    for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
      const energy = LINE_TABLE.energyEv[i];
      if (energy > low + 10 && energy < Math.min(high, conditions.beamEv / 1.05) && LINE_TABLE.relative[i] > 0.1)
        return true;
    }
    return false;
  });
}

/**
 * Elements seen by soft L or M lines alone start lower: their shapes and ratios are free enough to imitate the one soft
 * line of a common light element.
 */
function softPenalties(frame: Frame, candidates: readonly number[], start: RoundStart): number[] {
  const areas = lineAreas(frame.emission.lines(start.composition), start.instrument, candidates);
  return candidates.map((z) => (isSoftFamily(z, areas) ? SOFT_FAMILY_PENALTY : 0));
}

/** First guess: a light matrix, smoothed counts for weights, the background on the lower envelope of the counts. */
function firstStart(frame: Frame, axis: EnergyAxis, detector: Detector): RoundStart {
  const composition: MassFractions = new Float64Array(99);
  composition[zOf('C')!] = 0.3;
  composition[zOf('O')!] = 0.4;
  composition[zOf('Si')!] = 0.3;
  const instrument: Instrument = { axis, detector };
  return {
    instrument,
    composition,
    prior: priorFrom(axis, detector.noiseEv, instrument),
    model: smoothed(frame.counts, frame.range.lo, frame.range.hi),
    amounts: new Float64Array(0),
    doubted: new Float64Array(0),
    backgroundLevel: envelopeLevel(frame, composition, instrument),
    background: null,
    relativeError: ANNEALING[0],
    hopeless: false,
    banned: new Set(),
  };
}

/** Running mean over five channels, widened until it holds counts; zero outside the range. */
function smoothed(counts: Float64Array, lo: number, hi: number): Float64Array {
  const out = new Float64Array(counts.length);
  for (let i = lo; i < hi; i++) {
    let sum = 0;
    let width = 0;
    for (let reach = 2; sum < 4 && reach <= 64; reach *= 2) {
      const from = Math.max(lo, i - reach);
      const to = Math.min(hi, i + reach + 1);
      sum = 0;
      for (let k = from; k < to; k++) sum += counts[k];
      width = to - from;
    }
    out[i] = Math.max(sum, 1) / width;
  }
  return out;
}

/**
 * Ratio of the counts' lower envelope to the physical continuum: the lower quartile over blocks of channels; where few
 * counts leave that many blocks empty, half the ratio over the whole range (at least one count).
 */
function envelopeLevel(frame: Frame, composition: MassFractions, instrument: Instrument): number {
  const { lo, hi } = frame.range;
  const energies = channelEnergies(instrument.axis, frame.counts.length).subarray(lo, hi);
  const continuum = frame.emission.continuum(composition, energies);
  const block = Math.max(4, Math.ceil((hi - lo) / 60));
  const ratios: number[] = [];
  let allData = 0;
  let allShape = 0;
  for (let from = lo; from + block <= hi; from += block) {
    let data = 0;
    let shape = 0;
    for (let i = from; i < from + block; i++) {
      data += frame.counts[i];
      shape += continuum[i - lo] * efficiency(instrument.detector, energies[i - lo]);
    }
    if (shape > 0) ratios.push(data / shape);
    allData += data;
    allShape += shape;
  }
  ratios.sort((a, b) => a - b);
  const quartile = ratios[Math.floor(ratios.length / 4)] ?? 0;
  if (quartile > 0) return quartile;
  return allShape > 0 ? (0.5 * Math.max(allData, 1)) / allShape : 1;
}

function priorFrom(header: EnergyAxis, headerNoise: number, now: Instrument): InstrumentPrior {
  return {
    offset: { mean: header.offsetEv - now.axis.offsetEv, sigma: OFFSET_SIGMA_EV },
    gain: { mean: header.gainEv / now.axis.gainEv - 1, sigma: GAIN_SIGMA },
    noise: { mean: headerNoise - now.detector.noiseEv, sigma: NOISE_SIGMA_EV },
    fano: { mean: DEFAULT_DETECTOR.fano / now.detector.fano - 1, sigma: FANO_SIGMA },
  };
}

function settle(
  frame: Frame,
  candidates: readonly number[],
  firstStart: RoundStart,
  header: { readonly axis: EnergyAxis; readonly noise: number },
): Explanation {
  let start = firstStart;
  let round = solveRound(frame, candidates, start);
  let best: Round | undefined;
  let bestStart = start;
  let converged = false;
  let rounds = 1;
  for (; rounds < MAX_ROUNDS; rounds++) {
    const next = {
      ...nextStart(start, round, header, ANNEALING[rounds] ?? 0),
      hopeless: rounds >= ANNEALING.length && isHopeless(frame, round),
    };
    const following = solveRound(frame, candidates, next);
    if (rounds >= ANNEALING.length && (!best || following.merit <= best.merit + 1)) {
      best = following;
      bestStart = next;
    }
    const same = sameSet(round, following) && axisMove(round, following, frame) < AXIS_TOLERANCE_EV;
    start = next;
    round = following;
    if (rounds + 1 >= MIN_ROUNDS && same) {
      converged = true;
      rounds++;
      break;
    }
  }
  const contest = challenge(frame, candidates, { ...bestStart, relativeError: 0 }, best ?? round);
  return {
    frame,
    candidates,
    round: contest.round,
    trials: contest.trials,
    rounds: rounds + contest.takeOvers,
    converged,
  };
}

/** Moves what the round found into the model: axis, resolution, composition, background level. */
function nextStart(
  start: RoundStart,
  round: Round,
  header: { readonly axis: EnergyAxis; readonly noise: number },
  relativeError: number,
): RoundStart {
  const at = (kind: string): number => {
    const i = round.nuisances.findIndex((nuisance) => nuisance.kind === kind);
    return i < 0 ? 0 : round.theta[round.artefacts.length + i];
  };
  const clamp = (value: number, limit: number): number => Math.min(limit, Math.max(-limit, value));
  const { axis, detector } = start.instrument;
  const instrument: Instrument = {
    axis: { offsetEv: axis.offsetEv + clamp(at('offset'), 15), gainEv: axis.gainEv * (1 + clamp(at('gain'), 0.003)) },
    detector: {
      ...detector,
      noiseEv: Math.max(10, detector.noiseEv + clamp(at('noise'), 10)),
      fano: detector.fano * (1 + clamp(at('fano'), 0.03)),
    },
  };
  const splines = round.artefacts.filter(({ name }) => name === 'background').length;
  const levels = Array.from(round.theta.subarray(0, splines))
    .filter((value) => value > 0)
    .sort((a, b) => a - b);
  return {
    instrument,
    composition: compositionOf(round, start.composition),
    prior: priorFrom(header.axis, header.noise, instrument),
    model: round.model,
    amounts: round.hypothesis.x,
    doubted: round.hypothesis.x.map((amount, e) => (amount > 0 ? amount : (start.amounts[e] ?? 0))),
    backgroundLevel: levels[Math.floor(levels.length / 2)] ?? start.backgroundLevel,
    background: round.background,
    relativeError,
    hopeless: start.hopeless,
    banned: start.banned,
  };
}

/** Amounts normalised to mass fractions; the composition before when nothing was found. */
export function compositionOf(round: Round, before: MassFractions): MassFractions {
  const out: MassFractions = new Float64Array(before.length);
  let total = 0;
  for (const e of round.hypothesis.members) total += round.hypothesis.x[e];
  if (!(total > 0)) return before;
  for (const e of round.hypothesis.members) out[round.templates[e].z] = round.hypothesis.x[e] / total;
  return out;
}

function sameSet(a: Round, b: Round): boolean {
  const [x, y] = [a.hypothesis.members, b.hypothesis.members];
  return x.length === y.length && x.every((e, i) => e === y[i]);
}

function axisMove(a: Round, b: Round, frame: Frame): number {
  const top = frame.range.hi;
  const energy = (round: Round, channel: number): number =>
    round.instrument.axis.offsetEv + round.instrument.axis.gainEv * channel;
  const bottom = Math.max(0, channelOf(a.instrument.axis, 0));
  return Math.max(Math.abs(energy(a, top) - energy(b, top)), Math.abs(energy(a, bottom) - energy(b, bottom)));
}

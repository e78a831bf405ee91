import type { Detector } from '../detector/detector.ts';
import { artefactColumns } from '../fit/artefacts.ts';
import { NotPositiveDefiniteError } from '../fit/cholesky.ts';
import { priorOf, weightsOf } from '../fit/design.ts';
import { eliminate, eliminatedAt } from '../fit/eliminate.ts';
import { instrumentPrior, movedInstrument } from '../fit/instrument-prior.ts';
import { Layout, type ArtefactColumn } from '../fit/layout.ts';
import { normalEquations } from '../fit/normal.ts';
import { surroundingsOf } from '../fit/surroundings.ts';
import { linearCost } from '../fit/work.ts';
import { selfConvolution } from '../model/coincidence.ts';
import { columnFrom } from '../model/column.ts';
import { channelOf } from '../model/instrument.ts';
import type { Nuisance } from '../model/nuisances.ts';
import type { ElementTemplate } from '../model/templates.ts';
import type { EnergyAxis, Spectrum } from '../spectrum/spectrum.ts';
import { laidCounts } from '../spectrum/laid-counts.ts';
import { opened, type ExplainConditions, type Opened } from './contender.ts';
import { firstStart, smoothed } from './first-start.ts';
import { mergedAxis, mergingOf } from './merged.ts';
import { penaltyOf } from './other-axes.ts';
import { searchHypotheses } from './search.ts';

/*
 * Axes compared at little cost. Where one axis is tried after the other, lines, continuum and detector stay where they are in energy, and
 * the counts move: so the counts are laid onto one grid of energies as each axis has them, and the model on it is made once. What is left
 * out is what a comparison of axes can do without, as an error of 10 % is granted to the model: doubts of lines and continuum, another
 * matrix than a light one, a resolution that grows with the gain. Whether an axis is right, rounds on all that is known decide afterwards.
 */

/** Relative model error under which axes are compared. */
const COARSE = 0.1;
/** Width of the grid's channels, eV: half the FWHM of the lines there. */
const TRIAL_EV = 42;
/** The channels that the stated axis has above this are compared, the same for all axes: below, noise and zero peak may lie. */
const COMPARED_FROM_EV = 400;
/** On another axis they reach down to this energy, eV. */
const GROUND_FROM_EV = 250;
/** ... and up to this part of the beam energy, as of any fit (`fitRange`), or further than on the stated axis by this factor. */
const GROUND_TO = 0.96;
const LONGER = 1.07;
/** Fewest channels of the grid that tell anything. */
const LEAST_CHANNELS = 8;
/** Rounds in which an axis moves to its place. */
const MOVES = 2;

/** The grid and what on it is the same for all axes. */
export interface TrialGround {
  readonly spectrum: Spectrum;
  readonly at: Opened;
  /** Channels of the spectrum that are compared on every axis, and channels of the grid that the model is made for. */
  readonly compared: Range;
  readonly made: Range;
  readonly templates: readonly ElementTemplate[];
  /** Continuum and what the detector adds, without sums of photons. */
  readonly artefacts: readonly ArtefactColumn[];
  /** Sums of two photons by the sum of their channels, and how they are told. */
  readonly sums: Float64Array;
  readonly sumPrior: ArtefactColumn['prior'];
  readonly backgroundLevel: number;
}

interface Range {
  readonly lo: number;
  readonly hi: number;
}

/** An axis tried, and how badly it explains the counts: chi-square, the odds of its axis, of its move and of its elements counted. */
export interface Trial {
  readonly axis: EnergyAxis;
  readonly badness: number;
  readonly members: readonly number[];
  /** Lines of its elements, counts per channel of the grid. */
  readonly lines: Float64Array;
  /** Where the counts ask the axis to go, as far as a round may move it. */
  readonly next: EnergyAxis;
}

/** Counts with room beyond their end, for axes on which they reach further. */
function lengthened(counts: Float64Array): Float64Array {
  const out = new Float64Array(Math.ceil(LONGER * counts.length));
  out.set(counts);
  return out;
}

/** @param window of the detector, as the spectrum settled behind it */
export function trialGround(spectrum: Spectrum, conditions: ExplainConditions, window: Partial<Detector>): TrialGround {
  const from = (energyEv: number): number => Math.max(0, Math.ceil(channelOf(spectrum.axis, energyEv)));
  const wide = { ...conditions, merging: mergingOf(spectrum.axis, TRIAL_EV) };
  const longer = { ...spectrum, counts: lengthened(spectrum.counts) };
  // Elements whose lines may come to lie in what is compared are candidates.
  const at = opened(longer, wide, true, window, from(GROUND_FROM_EV));
  const { frame, stated, detector, candidates } = at;
  const { axis } = stated;
  const channel = (energyEv: number): number =>
    Math.min(frame.counts.length, Math.max(0, Math.floor(channelOf(axis, energyEv))));
  const made = { lo: channel(GROUND_FROM_EV), hi: channel(GROUND_TO * frame.beamEv) };
  const scene = { ...frame, range: { ...frame.range, ...made } };
  const start = firstStart(frame, stated, detector);
  const { model, backgroundLevel } = start;
  const surroundings = surroundingsOf(scene, start);
  const artefacts = artefactColumns(scene, start, [], weightsOf(model, COARSE, made.lo, made.hi));
  return {
    spectrum,
    at,
    compared: { lo: from(COMPARED_FROM_EV), hi: lastCounts(spectrum.counts) },
    made,
    templates: candidates.map((z) => surroundings.template(z)),
    artefacts: artefacts.filter(({ name }) => name !== 'continuum doubt' && name !== 'sum peaks'),
    sums: selfConvolution(model, made.lo, 0),
    sumPrior: artefacts.find(({ name }) => name === 'sum peaks')!.prior,
    backgroundLevel,
  };
}

/** Where the counts end: stray ones aside. */
function lastCounts(counts: Float64Array): number {
  let end = counts.length;
  while (end > 1 && counts[end - 1] === 0 && counts[end - 2] === 0) end--;
  return end;
}

/** One round on an axis; null where the counts are too unlike a spectrum for the algebra. */
export function triedAxis(ground: TrialGround, axis: EnergyAxis): Trial | null {
  return tried(ground, axis, null, axis);
}

/** The same axis moved to its place nearby: the best of some rounds. */
export function movedTrial(ground: TrialGround, first: Trial): Trial {
  let [best, last] = [first, first];
  for (let move = 0; move <= MOVES; move++) {
    const next = tried(ground, last.next, last, first.axis);
    if (!next) break;
    last = next;
    if (last.badness < best.badness) best = last;
  }
  return { ...best, axis: best.next };
}

/** @param before the round before, whose lines tell by what the axis may move  @param around where the axis began: it stays near */
function tried(ground: TrialGround, axis: EnergyAxis, before: Trial | null, around: EnergyAxis): Trial | null {
  const { spectrum, at, backgroundLevel } = ground;
  const { frame, stated, detector } = at;
  const n = frame.counts.length;
  const { lo, hi } = rangeOn(ground, axis);
  if (hi - lo < LEAST_CHANNELS) return null;
  const counts = laidCounts(spectrum.counts, axis, stated.axis, n);
  // The counts' own weights in every round: a model that misses a peak must not make it count more.
  const weights = weightsOf(smoothed(counts, lo, hi), COARSE, lo, hi);
  const instrument = { axis, detector };
  const prior = instrumentPrior({ ...stated, axis: around }, instrument);
  const moves = before ? movesOf(before.lines, axis, stated.axis, prior) : [];
  const layout = new Layout(ground.templates, [...ground.artefacts, sumsOn(ground, axis)], moves);
  frame.work?.spend(linearCost(layout.size, hi - lo));
  try {
    const normal = normalEquations(layout.columns, counts, weights, lo, hi);
    const problem = eliminate(normal, layout.elements, priorOf(layout, backgroundLevel));
    const options = { penalty: frame.penalty, swaps: 0, work: frame.work };
    const { members, x } = searchHypotheses(problem, [before?.members ?? []], options);
    const coefficients = layout.joined(x, eliminatedAt(problem, x));
    let badness = penaltyOf(spectrum.axis, axis) + misfit(layout, coefficients, counts, weights);
    for (const e of members) badness += frame.penalty[e];
    const by = (kind: 'offset' | 'gain' | 'noise' | 'fano'): number => coefficients[layout.indexOf(kind)] ?? 0;
    const lines = layout.expected(layout.joined(x, new Float64Array(layout.eliminated)), n);
    return { axis, badness, members, lines, next: movedInstrument(instrument, by).axis };
  } catch (error) {
    if (error instanceof NotPositiveDefiniteError) return null;
    throw error;
  }
}

/** Chi-square of the counts, and of the moves by what is known of the axis. @param weights 1 / variance per channel, 0 outside the range */
function misfit(layout: Layout, coefficients: Float64Array, counts: Float64Array, weights: Float64Array): number {
  const model = layout.expected(coefficients, counts.length);
  let sum = 0;
  for (let i = 0; i < counts.length; i++) sum += weights[i] * (counts[i] - model[i]) ** 2;
  for (let i = 0; i < layout.nuisances.length; i++) {
    const { mean, sigma } = layout.nuisances[i];
    sum += ((coefficients[layout.nuisance(i)] - mean) / sigma) ** 2;
  }
  return sum;
}

/** Channels of the grid that lie wholly under those compared. */
function rangeOn({ at, compared, made }: TrialGround, { offsetEv, gainEv }: EnergyAxis): Range {
  const edge = (i: number): number => channelOf(at.stated.axis, offsetEv + gainEv * (i - 0.5)) + 0.5;
  return { lo: Math.max(made.lo, Math.ceil(edge(compared.lo))), hi: Math.min(made.hi, Math.floor(edge(compared.hi))) };
}

/** Sums of two photons: their energies add, as an axis has them. */
function sumsOn({ sums, sumPrior, at }: TrialGround, axis: EnergyAxis): ArtefactColumn {
  const { offsetEv, gainEv } = mergedAxis(axis, at.merging);
  const laid = laidCounts(sums, { offsetEv: 2 * offsetEv, gainEv }, at.stated.axis, at.frame.counts.length);
  return { name: 'sum peaks', column: columnFrom(laid, 0), prior: sumPrior };
}

/**
 * Changes of the lines on the grid by 1 eV of offset and by a gain of 1 about channel 0, to first order: what lies at E by an axis
 * belongs at E + d(E), so that m(E + d) (1 + d') are expected of it. The slope is a five-point difference, as lines are but two channels wide.
 */
function movesOf(
  lines: Float64Array,
  axis: EnergyAxis,
  grid: EnergyAxis,
  prior: ReturnType<typeof instrumentPrior>,
): Nuisance[] {
  const last = lines.length - 1;
  const slope = new Float64Array(lines.length);
  const stretched = new Float64Array(lines.length);
  for (let i = 0; i <= last; i++) {
    const near = lines[Math.min(last, i + 1)] - lines[Math.max(0, i - 1)];
    const far = lines[Math.min(last, i + 2)] - lines[Math.max(0, i - 2)];
    slope[i] = (8 * near - far) / (12 * grid.gainEv);
    stretched[i] = lines[i] + slope[i] * (grid.offsetEv + grid.gainEv * i - axis.offsetEv);
  }
  return [
    { kind: 'offset', owner: 0, label: 'offset', column: columnFrom(slope, 0), ...prior.offset },
    { kind: 'gain', owner: 0, label: 'gain', column: columnFrom(stretched, 0), ...prior.gain },
  ];
}

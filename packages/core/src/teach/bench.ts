import { symbolOf, zOf } from '../atomic/elements.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { withResolution } from '../detector/resolution-statement.ts';
import { addScaled } from '../model/column.ts';
import { compareDrawn, type Comparison, type Measurement } from '../plan/comparison.ts';
import { countsFor, type CountsNeeded } from '../plan/counts-for.ts';
import { usualMeasurement } from '../plan/overlap.ts';
import { NOT_RECORDED, riseOf, separationOf, type TellingLine } from '../plan/separation.ts';
import { simulate } from '../simulate/simulate.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { type BenchState, BenchStateError } from './bench-state.ts';
import { bodyOfState, explanationOf, partName, sharesOf, withoutElements } from './specimen.ts';

/** The first speed: the spectrum itself. */
export interface BenchCurves {
  readonly energyEv: Float64Array;
  readonly counts: Float64Array;
  /** Symbols of the mixture that can be taken out, strongest share by mass first. */
  readonly elements: readonly string[];
}

/** Counts of a part's elements in the explanation, per channel. */
export interface BenchLayer {
  readonly name: string;
  readonly counts: Float64Array;
}

/** The second speed: the spectrum explained with and without an element. */
export interface BenchAnswer {
  readonly symbol: string;
  /** Where its own lines put most counts, eV; null where none is recorded. */
  readonly peakEv: number | null;
  readonly energyEv: Float64Array;
  /** Each part's lines, in the order of the parts. */
  readonly layers: readonly BenchLayer[];
  /** Expected counts under the explanation with the element, and refitted without it. */
  readonly withIt: Float64Array;
  readonly without: Float64Array;
  /** (counts - without) / standard deviation, per channel. */
  readonly residual: Float64Array;
  /** Standard deviations by which this spectrum, as drawn, asks for the element. */
  readonly found: number;
  /** Part of that rise in chi-square, 0 to 1, that is misfit in the channels; the rest is what the fit had to bend beyond what is known of it. */
  readonly seen: number;
  /** The same number of standard deviations expected of such spectra of a thick specimen, noise aside. */
  readonly sigma: number;
  readonly recorded: boolean;
  readonly lines: readonly TellingLine[];
  /** Correlation of its amount with that of the element it is most entangled with; null where it stands alone. */
  readonly entangled: { readonly symbol: string; readonly correlation: number } | null;
}

/** The spectrum of a state, as it would be written to a file. */
export function benchSpectrum(state: BenchState): Spectrum {
  return simulate(
    { body: bodyOfState(state), title: 'bench' },
    {
      beamKev: state.beamKev,
      totalCounts: state.counts,
      channels: measurementOf(state).channels,
      detector: withResolution(DEFAULT_DETECTOR, state.fwhmMnEv),
      seed: state.noise ? state.seed : null,
    },
  );
}

/** @throws BenchStateError for parts that cannot be read */
export function benchCurves(state: BenchState): BenchCurves {
  const { counts, axis } = benchSpectrum(state);
  const composition = explanationOf({ ...state, grainUm: null });
  const elements = Array.from(composition, (fraction, z) => ({ fraction, z }))
    .filter(({ fraction, z }) => fraction > 0 && z > FIRST_SEEN_Z)
    .sort((a, b) => b.fraction - a.fraction || a.z - b.z);
  return {
    energyEv: Float64Array.from(counts, (_, i) => axis.offsetEv + i * axis.gainEv),
    counts,
    elements: elements.map(({ z }) => symbolOf(z)),
  };
}

/** Boron and lighter elements lie below what the bench shows. */
const FIRST_SEEN_Z = 5;

const measurementOf = ({ beamKev, fwhmMnEv, counts }: BenchState): Measurement =>
  usualMeasurement(beamKev, fwhmMnEv, counts);

/**
 * Takes the element `out` of the state out of the explanation and lets everything else follow.
 * @throws BenchStateError where there is no such element in the mixture, or nothing would be left
 */
export function benchAnswer(state: BenchState, { counts, energyEv } = benchCurves(state)): BenchAnswer {
  const { truth, wrong, z } = sidesOf(state);
  const measurement = measurementOf(state);
  const compared = compareDrawn(truth, wrong, measurement, counts);
  const { chiSquare, recorded, lines } = compared ? separationOf(compared.expected, measurement) : NOT_RECORDED;
  const told = { symbol: symbolOf(z), energyEv, sigma: settled(Math.sqrt(chiSquare)), recorded, lines };
  if (compared === null) return { ...told, ...unseen(state, energyEv) };
  const { drawn } = compared;
  return {
    ...told,
    peakEv: peakOf(drawn, z, energyEv),
    layers: layersOf(drawn, state),
    withIt: drawn.truth.model.map(settled),
    without: drawn.wrong.model.map(settled),
    residual: residualOf(drawn, counts),
    found: settled(Math.sqrt(riseOf(drawn))),
    seen: settled(seenOf(drawn)),
    entangled: entangledWith(drawn, z),
  };
}

/**
 * The counts that would tell, behind the second speed: it takes some separations more.
 * @throws BenchStateError as benchAnswer does
 */
export function benchNeeds(
  state: BenchState,
  { sigma, recorded }: Pick<BenchAnswer, 'sigma' | 'recorded'>,
): CountsNeeded {
  if (!recorded) return { countsNeeded: null, mostSigma: 0 };
  const { truth, wrong } = sidesOf(state);
  return countsFor(truth, wrong, measurementOf(state), sigma ** 2);
}

function sidesOf(state: BenchState) {
  const { out } = state;
  const truth = explanationOf(state);
  const z = out === null ? undefined : zOf(out);
  if (z === undefined || !(truth[z] > 0))
    throw new BenchStateError(`There is no ${out ?? 'element'} in this mixture to take out.`);
  return { truth, wrong: withoutElements(truth, [z]), z };
}

function unseen({ parts }: BenchState, energyEv: Float64Array) {
  const none = new Float64Array(energyEv.length);
  return {
    peakEv: null,
    layers: parts.map(({ of }) => ({ name: partName(of), counts: none })),
    withIt: none,
    without: none,
    residual: none,
    found: 0,
    seen: 0,
    entangled: null,
  };
}

/** Rid of the last bits, in which the elementary functions of one machine differ from another's: far below all noise. */
const settled = (value: number): number => Math.round(value * 1e6) / 1e6;

function peakOf({ design, range }: Comparison, z: number, energyEv: Float64Array): number | null {
  const column = design.layout.templates.find((template) => template.z === z)?.column;
  if (column === undefined) return null;
  const from = Math.max(range.lo, column.lo);
  let best = from;
  for (let i = from; i < Math.min(range.hi, column.hi); i++)
    if (column.values[i - column.lo] > column.values[best - column.lo]) best = i;
  return energyEv[best];
}

function residualOf({ wrong, weights, range }: Comparison, counts: Float64Array): Float64Array {
  return counts.map((value, i) =>
    i < range.lo || i >= range.hi ? 0 : settled((value - wrong.model[i]) * Math.sqrt(weights[i])),
  );
}

function seenOf(compared: Comparison): number {
  const rise = riseOf(compared);
  const { range, counts, weights, truth, wrong } = compared;
  let misfit = 0;
  for (let i = range.lo; i < range.hi; i++)
    misfit += weights[i] * ((counts[i] - wrong.model[i]) ** 2 - (counts[i] - truth.model[i]) ** 2);
  return rise > 0 ? Math.min(1, Math.max(0, misfit / rise)) : 0;
}

/** What the model holds above continuum and detector, shared among the parts as their elements' lines stand there. */
function layersOf({ design, truth }: Comparison, { parts }: BenchState): BenchLayer[] {
  const shares = sharesOf(parts);
  const own = parts.map((_, p) => {
    const counts = new Float64Array(truth.model.length);
    design.layout.templates.forEach(({ z, column }, e) => {
      const all = shares.reduce((sum, { composition, share }) => sum + share * composition[z], 0);
      const held = shares[p].share * shares[p].composition[z];
      if (held > 0) addScaled(counts, column, (truth.x[e] * held) / all);
    });
    return counts;
  });
  const lines = linesAbove(design, truth);
  return parts.map(({ of }, p) => ({
    name: partName(of),
    counts: lines.map((above, i) => {
      const all = own.reduce((sum, counts) => sum + counts[i], 0);
      return all > 0 ? settled((above * own[p][i]) / all) : 0;
    }),
  }));
}

/** The model less continuum, shelf and sums, per channel. */
function linesAbove({ layout }: Comparison['design'], { model, coefficients }: Comparison['truth']): Float64Array {
  const below = new Float64Array(model.length);
  layout.artefacts.forEach(({ column }, i) => addScaled(below, column, coefficients[layout.artefact(i)]));
  return model.map((value, i) => Math.max(0, value - Math.max(0, below[i])));
}

const LEAST_CORRELATION = 0.05;

function entangledWith({ design, truth }: Comparison, z: number): BenchAnswer['entangled'] {
  const { members, covariance } = truth;
  const k = members.length;
  const at = members.findIndex((e) => design.layout.templates[e].z === z);
  if (at < 0) return null;
  const others = members.flatMap((e, j) => {
    const correlation = covariance[at * k + j] / Math.sqrt(covariance[at * k + at] * covariance[j * k + j]);
    return j === at ? [] : [{ symbol: symbolOf(design.layout.templates[e].z), correlation }];
  });
  const most = others.sort((a, b) => Math.abs(b.correlation) - Math.abs(a.correlation)).at(0);
  return most === undefined || Math.abs(most.correlation) < LEAST_CORRELATION ? null : most;
}

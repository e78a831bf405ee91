// Spectra drawn from the fit's own model, so that what the fit says of its uncertainty can be held against what happens.
import { zOf } from '../../packages/core/src/atomic/elements.ts';
import { parseFormula } from '../../packages/core/src/atomic/composition.ts';
import { DEFAULT_DETECTOR } from '../../packages/core/src/detector/detector.ts';
import type { Expansion, Scene } from '../../packages/core/src/fit/expansion.ts';
import { instrumentPrior, type StatedInstrument } from '../../packages/core/src/fit/instrument-prior.ts';
import { channelMisfit, misfitOf, pValueOf } from '../../packages/core/src/fit/quality.ts';
import { fitSpectrum, instrumentOf, type SpectrumFit } from '../../packages/core/src/fit/spectrum-fit.ts';
import { firstStart } from '../../packages/core/src/identify/first-start.ts';
import { emissionUnder } from '../../packages/core/src/model/emission.ts';
import { fitRange } from '../../packages/core/src/peaks/fit-range.ts';
import { poisson } from '../../packages/core/src/simulate/poisson.ts';
import { randomStream } from '../../packages/core/src/simulate/random.ts';
import { simulate } from '../../packages/core/src/simulate/simulate.ts';

const BEAM_KEV = 20;
const TAKE_OFF_DEG = 40;

/** A spectrum of the fit's own model, with what is true of it. */
export interface Matched {
  readonly scene: Scene;
  readonly zs: readonly number[];
  readonly start: Expansion;
  readonly stated: StatedInstrument;
  readonly truth: SpectrumFit;
}

/** The model that comes nearest to a simulated composition becomes the truth. */
export function matchedCase(composition: string, totalCounts: number): Matched {
  const spectrum = simulate({ composition }, { beamKev: BEAM_KEV, takeOffDeg: TAKE_OFF_DEG, totalCounts, seed: null });
  const conditions = { beamEv: BEAM_KEV * 1000, takeOffDeg: TAKE_OFF_DEG };
  const scene = {
    counts: spectrum.counts,
    range: fitRange(spectrum.counts, spectrum.axis, conditions.beamEv),
    emission: emissionUnder(conditions),
  };
  const stated = { axis: spectrum.axis, noiseEv: DEFAULT_DETECTOR.noiseEv };
  const zs = [...parseFormula(composition).keys()].filter((z) => z > zOf('Be')!).sort((a, b) => a - b);
  const first = firstStart({ ...scene, ...conditions, penalty: new Float64Array(zs.length) }, stated, DEFAULT_DETECTOR);
  const rough = Float64Array.from(zs, () => totalCounts / 1e-9 / zs.length);
  const near = fitSpectrum(scene, zs, first, rough, stated, { doubts: false });
  // What the model holds for true is the truth: priors are centred on it.
  const own = statedBy(near);
  const truth = fitSpectrum({ ...scene, counts: near.expected }, zs, recentred(near, own), amountsOf(near), own, {
    doubts: false,
  });
  return { scene: { ...scene, counts: truth.expected }, zs, start: recentred(truth, own), stated: own, truth };
}

const amountsOf = ({ zs, fit }: SpectrumFit): Float64Array => fit.coefficients.slice(0, zs.length);

function statedBy(fit: SpectrumFit): StatedInstrument {
  const { axis, detector } = instrumentOf(fit);
  return { axis, noiseEv: detector.noiseEv };
}

function recentred(fit: SpectrumFit, stated: StatedInstrument): Expansion {
  const instrument = instrumentOf(fit);
  return {
    ...fit.at,
    instrument,
    prior: instrumentPrior(stated, instrument),
    model: fit.expected,
    background: fit.background,
  };
}

/** One element of one draw. */
export interface Draw {
  readonly z: number;
  /** Fitted and true counts, and the fit's standard deviation. */
  readonly found: number;
  readonly wanted: number;
  readonly sigma: number;
}

export interface FittedDraw {
  readonly elements: readonly Draw[];
  readonly pValue: number;
  readonly converged: boolean;
}

/** Draws counts of a matched case and fits them from an axis a little off. */
export function fitDraw({ scene, zs, start, stated, truth }: Matched, seed: number): FittedDraw {
  const random = randomStream(seed, 7);
  const counts = truth.expected.map((mean) => poisson(mean, random));
  const { axis, detector } = start.instrument;
  const instrument = { detector, axis: { offsetEv: axis.offsetEv + 3, gainEv: axis.gainEv * 1.0003 } };
  const off = { ...start, instrument, prior: instrumentPrior(stated, instrument) };
  const drawn = { ...scene, counts };
  const fit = fitSpectrum(drawn, zs, off, amountsOf(truth), stated, { doubts: false });
  const channels = channelMisfit(drawn, fit.expected);
  return {
    elements: zs.map((z, e) => ({
      z,
      found: countsOf(fit, e),
      wanted: countsOf(truth, e),
      sigma: Math.sqrt(varianceOf(fit, e)) * perAmount(fit, e),
    })),
    pValue: pValueOf(misfitOf(drawn, fit, channels)),
    converged: fit.converged,
  };
}

/** The Cramér-Rao bound of an element's counts: information of the counts and priors at the truth. */
export function boundOf({ truth }: Matched, e: number): number {
  return Math.sqrt(varianceOf(truth, e)) * perAmount(truth, e);
}

const varianceOf = ({ fit, design }: SpectrumFit, e: number): number =>
  fit.covariance[e * design.layout.columns.length + e];
const countsOf = (fit: SpectrumFit, e: number): number => fit.fit.coefficients[e] * perAmount(fit, e);
const perAmount = ({ design }: SpectrumFit, e: number): number =>
  design.layout.templates[e].column.values.reduce((sum, value) => sum + value, 0);

/** Largest distance between the distribution of values and the uniform one on 0..1 (Kolmogorov-Smirnov). */
export function uniformDistance(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.reduce(
    (most, value, i) => Math.max(most, Math.abs(value - i / sorted.length), Math.abs((i + 1) / sorted.length - value)),
    0,
  );
}

import { exp } from '../arithmetic/exponential.ts';
import { LINE_TABLE, lineAt } from '../atomic/lines.ts';
import type { Detector } from '../detector/detector.ts';
import { efficiency } from '../detector/efficiency.ts';
import { escapeRatio, SILICON_ESCAPE_EV } from '../detector/escape.ts';
import { addLine, lineShape } from '../detector/line-shape.ts';
import { addRadiativeAuger, radiativeAugerOf } from '../detector/radiative-auger.ts';
import { siliconFluorescence } from '../detector/silicon-fluorescence.ts';
import { SILICON_K_ALPHA_EV } from '../detector/silicon-k.ts';
import { memoise } from '../model/memoise.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import { bendShape, type LineBends, type LineShapeBend, shapesText } from './bend-lines.ts';

/** Counts per channel from channel `from` on; none elsewhere. */
export interface Stretch {
  readonly from: number;
  readonly values: Float64Array;
}

/** What a detector and its axis make of photons on their way to it, all of it linear in their number. */
export interface Response {
  /** Counts per photon of a line of LINE_TABLE: peak, tail, escape peak, radiative-Auger bands, satellites where bends ask for them. */
  line(index: number): LineResponse;
  /** Energies at which {@link continuum} wants the photons per eV: the channels, and some beyond the last. */
  readonly energiesEv: Float64Array;
  /** Counts per channel of a continuum, smeared by the resolution, with what escapes of it. */
  continuum(photonsPerEv: Float64Array): Float64Array;
  /** Counts that a continuum makes the detector's own silicon add. */
  siliconOfContinuum(photonsPerEv: Float64Array): number;
  /** One such count. */
  readonly siliconPeak: Stretch;
  /** One count of aluminium in the detector. */
  readonly aluminiumPeak: Stretch;
}

export interface LineResponse {
  readonly counts: Stretch;
  /** Counts that the detector's own silicon adds, per photon. */
  readonly silicon: number;
}

interface Instrument {
  readonly detector: Detector;
  readonly axis: EnergyAxis;
  readonly channels: number;
  /** What bends shapes of lines, if anything does. */
  readonly shapes: LineBends | undefined;
}

/** Al K-L3, eV. X-Ray Data Booklet Table 1-2. */
const ALUMINIUM_K_ALPHA_EV = 1486.7;

/** Instruments memoised; the lines of some ten elements take 3 MB each. */
const REMEMBERED = 4;

/** Filled as lines are asked for: whoever asks first or last gets the same. */
export const responseOf: (instrument: Instrument) => Response = memoise(
  REMEMBERED,
  ({ shapes, ...instrument }) => JSON.stringify(instrument) + shapesText(shapes),
  createResponse,
);

function createResponse(instrument: Instrument): Response {
  const { detector, axis, channels } = instrument;
  const lines = new Array<LineResponse | undefined>(LINE_TABLE.count);
  const scratch = new Float64Array(channels);
  const peak = (energyEv: number): Stretch => {
    addLine(scratch, axis, lineShape(detector, energyEv), 1);
    return taken(scratch);
  };
  return {
    line: (index) =>
      (lines[index] ??= {
        counts: lineCounts(index, instrument, scratch),
        silicon: siliconFluorescence(detector, LINE_TABLE.energyEv[index]),
      }),
    siliconPeak: peak(SILICON_K_ALPHA_EV),
    aluminiumPeak: peak(ALUMINIUM_K_ALPHA_EV),
    ...continuumResponse(instrument),
  };
}

/** @param scratch zeros, and zeros again afterwards */
function lineCounts(index: number, { detector, axis, shapes }: Instrument, scratch: Float64Array): Stretch {
  const { z, iupac, energyEv, widthEv } = lineAt(index);
  const bent = shapes === undefined ? AS_IT_IS : bendShape(shapes, index);
  const energy = energyEv + bent.shiftEv;
  const ratio = escapeRatio(energyEv);
  const counts = efficiency(detector, energyEv) / (1 + ratio);
  const add = (atEv: number, area: number): void => {
    const shape = lineShape(detector, atEv, widthEv);
    const { sigmaEv, naturalEv } = shape;
    addLine(scratch, axis, { ...shape, sigmaEv: sigmaEv * bent.width, naturalEv: naturalEv * bent.width }, area);
  };
  add(energy, counts * bent.satellites.reduce((left, { part }) => left - part, 1));
  for (const { part, aboveEv } of bent.satellites) add(energy + aboveEv, counts * part);
  if (ratio > 0) addLine(scratch, axis, lineShape(detector, energy - SILICON_ESCAPE_EV), counts * ratio);
  for (const band of radiativeAugerOf(z, iupac)) {
    const area = counts * band.fraction * bent.radiativeAuger(band.name);
    addRadiativeAuger(scratch, axis, detector, band, z, energy, area);
  }
  return taken(scratch);
}

const AS_IT_IS: LineShapeBend = { shiftEv: 0, width: 1, satellites: [], radiativeAuger: () => 1 };

/** What is not zero, which it then is. */
function taken(scratch: Float64Array): Stretch {
  let [from, to] = [0, scratch.length];
  while (from < to && scratch[from] === 0) from++;
  while (to > from && scratch[to - 1] === 0) to--;
  const values = scratch.slice(from, to);
  scratch.fill(0, from, to);
  return { from, values };
}

/** Above this the layers of a detector have no strong edges, and what they let through changes slowly, eV. */
const SMOOTH_FROM_EV = 2000;
const SMOOTH_SPAN_EV = 40;

/** Standard deviations up to which the continuum is smeared. */
const REACH = 4;
/** Channels within this energy share a kernel, eV, below and above SMOOTH_FROM_EV: its width changes by 0.7 % at most. */
const KERNEL_SPAN_EV = 20;
const SMOOTH_KERNEL_SPAN_EV = 80;

/** The silicon that the continuum makes shine is worked out at energies this far apart, eV: the continuum is smooth. */
const SILICON_SPAN_EV = 80;

type ContinuumResponse = Pick<Response, 'energiesEv' | 'continuum' | 'siliconOfContinuum'>;

function continuumResponse({ detector, axis, channels }: Instrument): ContinuumResponse {
  const { offsetEv, gainEv } = axis;
  const top = lineShape(detector, Math.max(0, offsetEv + gainEv * channels));
  const beyond = Math.ceil((REACH * top.sigmaEv) / gainEv);
  const energiesEv = Float64Array.from({ length: channels + beyond }, (_, i) => offsetEv + gainEv * i);
  const pulses = sampled(energiesEv, (energy) => efficiency(detector, energy) * gainEv);
  const escaping = sampled(energiesEv, (energy) => part(escapeRatio(energy)));
  const kernelAt = kernels(detector, axis);
  const step = Math.max(1, Math.round(SILICON_SPAN_EV / gainEv));
  const silicon = energiesEv.map((energy, i) =>
    i % step === 0 && energy > 0 ? siliconFluorescence(detector, energy) * gainEv * step : 0,
  );
  return {
    energiesEv,
    continuum(photonsPerEv) {
      const met = photonsPerEv.map((photons, i) => photons * pulses[i]);
      const absorbed = withEscapes(met, escaping, SILICON_ESCAPE_EV / gainEv);
      const out = new Float64Array(channels);
      for (let i = 0; i < absorbed.length; i++) if (absorbed[i] > 0) addKernel(out, i, kernelAt(i), absorbed[i]);
      return out;
    },
    siliconOfContinuum: (photonsPerEv) => photonsPerEv.reduce((sum, photons, i) => sum + photons * silicon[i], 0),
  };
}

/** A property of the detector at every energy, 0 below 0 eV; where it is smooth, worked out at some and interpolated. */
function sampled(energiesEv: Float64Array, property: (energyEv: number) => number): Float64Array {
  const out = new Float64Array(energiesEv.length);
  const gainEv = energiesEv[1] - energiesEv[0];
  const stride = Math.max(1, Math.floor(SMOOTH_SPAN_EV / gainEv));
  for (let i = 0; i < out.length;) {
    const step = energiesEv[i] > SMOOTH_FROM_EV ? Math.min(stride, Math.max(1, out.length - 1 - i)) : 1;
    out[i] = energiesEv[i] > 0 ? property(energiesEv[i]) : 0;
    if (step > 1) {
      const next = property(energiesEv[i + step]);
      for (let k = 1; k < step; k++) out[i + k] = out[i] + ((next - out[i]) * k) / step;
    }
    i += step;
  }
  return out;
}

const part = (ratio: number): number => ratio / (1 + ratio);

/** Moves the escaping part of each channel down by a number of channels, shared between the two next to its place. */
function withEscapes(pulses: Float64Array, escaping: Float64Array, down: number): Float64Array {
  const whole = Math.floor(down);
  const lower = down - whole;
  const out = pulses.map((value, i) => value * (1 - escaping[i]));
  for (let i = whole + 1; i < pulses.length; i++) {
    const moved = pulses[i] * escaping[i];
    out[i - whole] += moved * (1 - lower);
    out[i - whole - 1] += moved * lower;
  }
  return out;
}

/** The kernel of each channel; neighbours share one. */
function kernels(detector: Detector, axis: EnergyAxis): (channel: number) => Float64Array {
  const { offsetEv, gainEv } = axis;
  const [narrow, wide] = [KERNEL_SPAN_EV, SMOOTH_KERNEL_SPAN_EV].map((ev) => Math.max(1, Math.round(ev / gainEv)));
  const smoothFrom = Math.max(0, Math.ceil((SMOOTH_FROM_EV - offsetEv) / gainEv));
  const made: (Float64Array | undefined)[] = [];
  return (channel) => {
    const [start, span] = channel < smoothFrom ? [0, narrow] : [smoothFrom, wide];
    const first = start + Math.floor((channel - start) / span) * span;
    return (made[first] ??= smearing(detector, gainEv, offsetEv + gainEv * (first + 0.5 * (span - 1))));
  };
}

/** Gaussian of the response at an energy, sampled (with the variance of a channel's width) and normalised. */
function smearing(detector: Detector, gainEv: number, energyEv: number): Float64Array {
  const { centreEv, sigmaEv } = lineShape(detector, Math.max(1, energyEv));
  const sigma = Math.sqrt((sigmaEv / gainEv) * (sigmaEv / gainEv) + 1 / 12);
  const shift = (centreEv - Math.max(1, energyEv)) / gainEv;
  const reach = Math.ceil(REACH * sigma - Math.min(0, shift));
  const kernel = new Float64Array(2 * reach + 1);
  let total = 0;
  for (let k = 0; k < kernel.length; k++) {
    const t = (k - reach - shift) / sigma;
    total += kernel[k] = exp(-0.5 * t * t);
  }
  for (let k = 0; k < kernel.length; k++) kernel[k] /= total;
  return kernel;
}

function addKernel(out: Float64Array, at: number, kernel: Float64Array, factor: number): void {
  const start = at - (kernel.length - 1) / 2;
  const end = Math.min(kernel.length, out.length - start);
  for (let k = Math.max(0, -start); k < end; k++) out[start + k] += factor * kernel[k];
}

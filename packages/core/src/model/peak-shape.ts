import { exp } from '../arithmetic/exponential.ts';
import { erfc } from '../detector/error-function.ts';
import { pseudoVoigt } from '../detector/pseudo-voigt.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';

/** Linear axis on which shapes are sampled: channel i at offsetEv + gainEv i. */
export interface Sampling {
  readonly offsetEv: number;
  readonly gainEv: number;
}

/** Where derivatives of a shape go: per eV of energy, and per relative change of the width. */
export interface ShapeSlopes {
  readonly shift: Float64Array;
  readonly width: Float64Array;
}

/** Gaussian support, standard deviations: the area beyond is 4e-8. */
const SUPPORT = 5.5;
/** Tail support, decay lengths: the area beyond is 0.25 % of the tail. */
const TAIL_SUPPORT = 6;
/** Lorentzian support, full widths: 2.5 % of its share lies beyond. It is lowered to end at 0: no template may end in a step. */
const LORENTZIAN_SUPPORT = 12;
/** Below this argument erfc is 2 within 5e-9. */
const ERFC_IS_TWO = -4.2;

const firstChannel = ({ offsetEv, gainEv }: Sampling, energyEv: number): number =>
  Math.max(0, Math.ceil((energyEv - offsetEv) / gainEv));
const lastChannel = ({ offsetEv, gainEv }: Sampling, energyEv: number, n: number): number =>
  Math.min(n - 1, Math.floor((energyEv - offsetEv) / gainEv));

/** First and last channel that a Gaussian is added to. */
export function gaussianChannels(axis: Sampling, centreEv: number, sigmaEv: number, n: number): [number, number] {
  return [firstChannel(axis, centreEv - SUPPORT * sigmaEv), lastChannel(axis, centreEv + SUPPORT * sigmaEv, n)];
}

/**
 * Adds a Gaussian of the given area (counts). On an even axis neighbouring values differ by a factor that itself changes by
 * a constant factor, so that one channel costs two products; the rounding error stays below 1e-12 of the value.
 */
export function addGaussian(
  out: Float64Array,
  axis: Sampling,
  centreEv: number,
  sigmaEv: number,
  area: number,
  slopes: ShapeSlopes | null = null,
): void {
  const [from, to] = gaussianChannels(axis, centreEv, sigmaEv, out.length);
  const step = axis.gainEv / sigmaEv;
  let u = (axis.offsetEv + axis.gainEv * from - centreEv) / sigmaEv;
  let y = ((area * step) / Math.sqrt(2 * Math.PI)) * exp(-0.5 * u * u);
  let ratio = exp(-step * (u + 0.5 * step));
  const change = exp(-step * step);
  if (slopes === null) {
    for (let i = from; i <= to; i++) {
      out[i] += y;
      y *= ratio;
      ratio *= change;
    }
    return;
  }
  const { shift, width } = slopes;
  const inverse = 1 / sigmaEv;
  for (let i = from; i <= to; i++) {
    out[i] += y;
    shift[i] += y * u * inverse;
    width[i] += y * (u * u - 1);
    u += step;
    y *= ratio;
    ratio *= change;
  }
}

/** Sigma of the Gaussian as wide as a Voigt profile: enough for a weak line, whose wings leave no trace. */
export function voigtSigma(sigmaEv: number, naturalEv: number): number {
  return pseudoVoigt(sigmaEv, naturalEv).fwhm / FWHM_PER_SIGMA;
}

/** Relative step for the change of a Voigt profile's width with its Gaussian's. */
const WIDTH_STEP = 1e-4;

/** Adds a Voigt profile: a Gaussian of `sigmaEv` folded with a Lorentzian of full width `naturalEv`. */
export function addVoigt(
  out: Float64Array,
  axis: Sampling,
  centreEv: number,
  sigmaEv: number,
  naturalEv: number,
  area: number,
  slopes: ShapeSlopes | null = null,
): void {
  const { fwhm, lorentzian } = pseudoVoigt(sigmaEv, naturalEv);
  const sigma = fwhm / FWHM_PER_SIGMA;
  const half = fwhm / 2;
  const lorentzHeight = (area * axis.gainEv * half) / Math.PI;
  const from = firstChannel(axis, centreEv - LORENTZIAN_SUPPORT * fwhm);
  const to = lastChannel(axis, centreEv + LORENTZIAN_SUPPORT * fwhm, out.length);
  const atEnd = lorentzHeight / ((LORENTZIAN_SUPPORT * fwhm) ** 2 + half * half);
  if (slopes === null) {
    addGaussian(out, axis, centreEv, sigma, (1 - lorentzian) * area);
    for (let i = from; i <= to; i++) {
      const x = axis.offsetEv + axis.gainEv * i - centreEv;
      out[i] += lorentzian * (lorentzHeight / (x * x + half * half) - atEnd);
    }
    return;
  }
  const wider = pseudoVoigt(sigmaEv * (1 + WIDTH_STEP), naturalEv);
  // What a relative change of the Gaussian's width does to the common width (relative) and to the Lorentzian share.
  const widening = (wider.fwhm / fwhm - 1) / WIDTH_STEP;
  const exchange = (wider.lorentzian - lorentzian) / WIDTH_STEP;
  const gaussHeight = (area * axis.gainEv) / (sigma * Math.sqrt(2 * Math.PI));
  for (let i = from; i <= to; i++) {
    const x = axis.offsetEv + axis.gainEv * i - centreEv;
    const u = x / sigma;
    const gauss = Math.abs(u) < SUPPORT ? gaussHeight * exp(-0.5 * u * u) : 0;
    const spread = x * x + half * half;
    const lorentz = lorentzHeight / spread - atEnd;
    out[i] += (1 - lorentzian) * gauss + lorentzian * lorentz;
    const lorentzShift = (2 * x * lorentzHeight) / (spread * spread);
    slopes.shift[i] += ((1 - lorentzian) * gauss * u) / sigma + lorentzian * lorentzShift;
    slopes.width[i] +=
      widening * ((1 - lorentzian) * gauss * (u * u - 1) + lorentzian * (x * lorentzShift - lorentz)) +
      exchange * (lorentz - gauss);
  }
}

/**
 * Adds the exponential tail below a line, folded with its Gaussian; unit area: exp(x/β + σ²/2β²) erfc(x/σ√2 + σ/β√2) / 2β.
 * Nothing is added below 0 eV. β changes with σ where the width does.
 * @param fraction part of `area` that `out` and `slopes` receive
 * @param unit receives the tail of the whole area
 * Source: Hypermet family (G.W. Phillips, K.W. Marlow, Nucl. Instrum. Methods 137 (1976) 525, from memory).
 */
export function addTail(
  out: Float64Array,
  axis: Sampling,
  centreEv: number,
  sigmaEv: number,
  betaEv: number,
  area: number,
  fraction: number,
  slopes: ShapeSlopes | null = null,
  unit?: Float64Array,
): void {
  const { offsetEv, gainEv } = axis;
  const from = firstChannel(axis, Math.max(0, centreEv - TAIL_SUPPORT * betaEv));
  const to = lastChannel(axis, centreEv + SUPPORT * sigmaEv, out.length);
  const a = 1 / (sigmaEv * Math.SQRT2);
  const c = sigmaEv / (betaEv * Math.SQRT2);
  const gaussHeight = (area * gainEv) / (sigmaEv * Math.sqrt(2 * Math.PI));
  let x = offsetEv + gainEv * from - centreEv;
  let exponential = ((area * gainEv) / (2 * betaEv)) * exp(x / betaEv + c * c);
  const growth = exp(gainEv / betaEv);
  if (!slopes && !unit) {
    let i = from;
    // Far below the line the tail is a plain exponential.
    for (; i <= to && x * a + c < ERFC_IS_TWO; i++) {
      out[i] += fraction * (exponential * 2);
      x += gainEv;
      exponential *= growth;
    }
    for (; i <= to; i++) {
      out[i] += fraction * (exponential * erfc(x * a + c));
      x += gainEv;
      exponential *= growth;
    }
    return;
  }
  for (let i = from; i <= to; i++) {
    const z = x * a + c;
    const tail = exponential * (z < ERFC_IS_TWO ? 2 : erfc(z));
    out[i] += fraction * tail;
    if (unit) unit[i] += tail;
    if (slopes) {
      const u = x / sigmaEv;
      const gauss = Math.abs(u) < SUPPORT ? gaussHeight * exp(-0.5 * u * u) : 0;
      const shift = (gauss - tail) / betaEv;
      slopes.shift[i] += fraction * shift;
      slopes.width[i] += fraction * (x * shift - tail);
    }
    x += gainEv;
    exponential *= growth;
  }
}

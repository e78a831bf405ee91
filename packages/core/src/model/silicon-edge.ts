import { exp } from '../arithmetic/exponential.ts';
import { SILICON_K_EDGE_EV } from '../detector/silicon-k.ts';
import { columnFrom, type Column } from './column.ts';
import { channelOf, EDGE_SHIFT_EV, lineSigma, type Instrument } from './instrument.ts';

/** Standard deviations of the Gaussian that are kept. */
const REACH = 4;

/**
 * What the continuum gains at the silicon K edge of the detector. Photons just above it lose charge and are recorded too low, those just below are
 * not: where the two meet, so many eV of continuum are counted twice, as a small peak. Sr L-alpha lies there: at 10^7 counts it was taken for
 * strontium. A coefficient of 1 is the shift that peaks above the edge are expected to have, which is known to no better than itself.
 * @param background continuum counts per channel as fitted so far
 * @param lo,hi the fitted range   @returns null where the edge is not in it
 */
export function siliconEdgeColumn(
  background: Float64Array,
  instrument: Instrument,
  lo: number,
  hi: number,
): Column | null {
  const { gainEv } = instrument.axis;
  const middle = channelOf(instrument.axis, SILICON_K_EDGE_EV);
  const at = Math.round(middle);
  if (at < lo || at >= hi || !(background[at] > 0)) return null;
  const area = (background[at] * EDGE_SHIFT_EV) / gainEv;
  const sigma = lineSigma(instrument, SILICON_K_EDGE_EV) / gainEv;
  const height = area / (sigma * Math.sqrt(2 * Math.PI));
  const from = Math.max(lo, Math.ceil(middle - REACH * sigma));
  const to = Math.min(hi, Math.floor(middle + REACH * sigma) + 1);
  const values = new Float64Array(to - from);
  for (let k = 0; k < values.length; k++) values[k] = height * exp(-0.5 * ((from + k - middle) / sigma) ** 2);
  return columnFrom(values, from);
}

import { ascending } from '../arithmetic/order.ts';
import type { MassFractions } from '../atomic/composition.ts';
import { zOf } from '../atomic/elements.ts';
import type { Detector } from '../detector/detector.ts';
import { USUAL_SUM_RATE } from '../fit/expansion.ts';
import { instrumentPrior, type StatedInstrument } from '../fit/instrument-prior.ts';
import { efficiencyTable } from '../model/efficiency-table.ts';
import { channelEnergies, type Instrument } from '../model/instrument.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import type { RoundStart } from './round.ts';
import type { Frame } from './state.ts';

/** First guess, around the stated axis or another one: a light matrix, smoothed counts for weights, the background on the lower envelope of the counts. */
export function firstStart(
  frame: Frame,
  stated: StatedInstrument,
  detector: Detector,
  axis: EnergyAxis = stated.axis,
): RoundStart {
  const { composition, instrument } = firstPlace(stated, detector, axis);
  return {
    instrument,
    composition,
    prior: instrumentPrior(stated, instrument),
    model: smoothed(frame.counts, frame.range.lo, frame.range.hi),
    amounts: new Float64Array(0),
    doubted: new Float64Array(0),
    backgroundLevel: envelopeLevel(frame, composition, instrument),
    background: null,
    sumRate: USUAL_SUM_RATE,
    relativeError: 0,
    hopeless: false,
    banned: new Set(),
  };
}

/** Matrix and instrument of the first guess. */
export function firstPlace(
  stated: StatedInstrument,
  detector: Detector,
  axis: EnergyAxis = stated.axis,
): Pick<RoundStart, 'composition' | 'instrument'> {
  const composition: MassFractions = new Float64Array(99);
  composition[zOf('C')!] = 0.3;
  composition[zOf('O')!] = 0.4;
  composition[zOf('Si')!] = 0.3;
  return { composition, instrument: { axis, detector: { ...detector, noiseEv: stated.noiseEv } } };
}

/** Running mean over five channels, widened until it holds counts; zero outside the range. */
export function smoothed(counts: Float64Array, lo: number, hi: number): Float64Array {
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
  const table = efficiencyTable(instrument.detector);
  const ratios: number[] = [];
  let allData = 0;
  let allShape = 0;
  for (let from = lo; from + block <= hi; from += block) {
    let data = 0;
    let shape = 0;
    for (let i = from; i < from + block; i++) {
      data += frame.counts[i];
      shape += continuum[i - lo] * table.at(energies[i - lo]);
    }
    if (shape > 0) ratios.push(data / shape);
    allData += data;
    allShape += shape;
  }
  if (ratios.length === 0) return 1;
  const quartile = ratios.sort(ascending)[Math.floor(ratios.length / 4)];
  return quartile > 0 ? quartile : (0.5 * Math.max(allData, 1)) / allShape;
}

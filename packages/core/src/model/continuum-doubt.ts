import { efficiency } from '../detector/efficiency.ts';
import type { Detector } from '../detector/detector.ts';
import { columnOf, type Column } from './column.ts';

/**
 * What may be wrong with the layers that the continuum passes, as one standard uncertainty each. They leave steps at
 * absorption edges (C, N, O, Al, Si) that a smooth factor cannot follow and a soft line would otherwise be made of.
 * Typical makers' tolerances and ageing (common practice, no source).
 */
const LAYER_DOUBTS: readonly ((detector: Detector) => Partial<Detector>)[] = [
  ({ windowUm }) => ({ windowUm: windowUm * 1.25 }),
  ({ aluminiumNm }) => ({ aluminiumNm: aluminiumNm * 1.5 }),
  ({ deadLayerUm }) => ({ deadLayerUm: deadLayerUm + 0.05 }),
  ({ iceUm }) => ({ iceUm: iceUm + 0.1 }),
];

/** Uncertainty of the attenuation along the way out of the specimen, relative (path, composition and coefficient). */
export const ATTENUATION_DOUBT = 0.12;

/**
 * Columns by which the continuum may bend: one per uncertain layer of the detector, one for absorption in the specimen.
 * A coefficient of 1 is one standard uncertainty.
 * @param background continuum counts per channel as fitted so far
 * @param energyEv channel centres
 * @param attenuated continuum with the specimen's attenuation raised by ATTENUATION_DOUBT over the unchanged one
 */
export function continuumDoubts(
  background: Float64Array,
  energyEv: Float64Array,
  attenuated: Float64Array,
  detector: Detector,
  lo: number,
  hi: number,
): Column[] {
  const layers = LAYER_DOUBTS.map((change) => {
    const changed = { ...detector, ...change(detector) };
    return bent(background, lo, hi, (i) => efficiency(changed, energyEv[i]) / efficiency(detector, energyEv[i]));
  });
  return [...layers, bent(background, lo, hi, (i) => attenuated[i])].filter((column) => column.hi > column.lo);
}

function bent(background: Float64Array, lo: number, hi: number, ratio: (i: number) => number): Column {
  const out = new Float64Array(background.length);
  for (let i = lo; i < hi; i++) {
    const factor = ratio(i);
    if (factor > 0 && Number.isFinite(factor)) out[i] = Math.max(background[i], 0) * Math.log(factor);
  }
  return columnOf(out);
}

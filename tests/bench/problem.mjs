import { createEmission } from '../../packages/core/dist/emission/characteristic.js';
import { DEFAULT_DETECTOR } from '../../packages/core/dist/detector/detector.js';
import { massFractionsOf } from '../../packages/core/dist/atomic/composition.js';
import { CANDIDATE_ELEMENTS } from '../../packages/core/dist/identify/candidates.js';
import { backgroundColumns } from '../../packages/core/dist/model/background.js';
import { detectedContinuum } from '../../packages/core/dist/model/continuum.js';
import { channelEnergies } from '../../packages/core/dist/model/instrument.js';
import { elementTemplate, lineAreas } from '../../packages/core/dist/model/templates.js';
import { fitRange } from '../../packages/core/dist/peaks/fit-range.js';

/**
 * The plain problem of one spectrum: a column for every candidate element with lines in the range, and the smooth
 * background's, each row weighted by 1 / sqrt(counts), each column of norm 1, over all channels of the axis.
 */
export function plainProblem(spectrum) {
  const { counts, axis, beamKev, takeOffDeg } = spectrum;
  const n = counts.length;
  const beamEv = beamKev * 1000;
  const { lo, hi } = fitRange(counts, axis, beamEv);
  const instrument = { axis, detector: DEFAULT_DETECTOR };
  const matrix = massFractionsOf('SiO2');
  const emission = createEmission(beamEv, takeOffDeg ?? 40);
  const areas = lineAreas(emission.lines(matrix), instrument, CANDIDATE_ELEMENTS);
  const continuum = detectedContinuum(emission, matrix, instrument, n, lo, hi).counts;
  const weight = Float64Array.from(counts, (count, i) => (i < lo || i >= hi ? 0 : 1 / Math.sqrt(Math.max(count, 1))));
  const columns = [
    ...CANDIDATE_ELEMENTS.map((z) => elementTemplate(z, areas, instrument, n).column),
    ...backgroundColumns(continuum, channelEnergies(axis, n), lo, hi),
  ];
  const dense = columns.map(({ values }) => unit(values.map((value, i) => value * weight[i]))).filter(Boolean);
  return { columns: dense, y: counts.map((count, i) => count * weight[i]) };
}

function unit(values) {
  const norm = Math.hypot(...values);
  return norm > 0 ? values.map((value) => value / norm) : null;
}

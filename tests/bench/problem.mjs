import { createEmission } from '../../packages/core/dist/emission/thick/characteristic.js';
import { DEFAULT_DETECTOR } from '../../packages/core/dist/detector/detector.js';
import { massFractionsOf } from '../../packages/core/dist/atomic/composition.js';
import { CANDIDATE_ELEMENTS } from '../../packages/core/dist/identify/candidates.js';
import { backgroundColumns } from '../../packages/core/dist/model/background.js';
import { columnOf, spreadOut } from '../../packages/core/dist/model/column.js';
import { detectedContinuum } from '../../packages/core/dist/model/continuum.js';
import { channelEnergies } from '../../packages/core/dist/model/instrument.js';
import { elementTemplate, lineAreas } from '../../packages/core/dist/model/templates.js';
import { fitRange } from '../../packages/core/dist/peaks/fit-range.js';

/**
 * The plain problem of one spectrum: a column for every candidate element with lines in the range, and the smooth
 * background's, each row weighted by 1 / sqrt(counts), each column of norm 1, over all channels of the axis.
 */
export function plainProblem(spectrum, { elements = CANDIDATE_ELEMENTS, beamKev = spectrum.beamKev } = {}) {
  const { counts, axis, takeOffDeg } = spectrum;
  const n = counts.length;
  const beamEv = beamKev * 1000;
  const { lo, hi } = fitRange(counts, axis, beamEv);
  const instrument = { axis, detector: DEFAULT_DETECTOR };
  const matrix = massFractionsOf('SiO2');
  const emission = createEmission(beamEv, takeOffDeg ?? 40);
  const areas = lineAreas(emission.lines(matrix), instrument, elements);
  const continuum = detectedContinuum(emission, matrix, instrument, n, lo, hi).counts;
  const weight = Float64Array.from(counts, (count, i) => (i < lo || i >= hi ? 0 : 1 / Math.sqrt(Math.max(count, 1))));
  const columns = [
    ...elements.map((z) => elementTemplate(z, areas, instrument, n).column),
    ...backgroundColumns(continuum, channelEnergies(axis, n), lo, hi),
  ].map((column) => spreadOut(column, n));
  const dense = columns.map((values) => unit(values.map((value, i) => value * weight[i]))).filter(Boolean);
  return {
    columns: dense,
    y: counts.map((count, i) => count * weight[i]),
    poisson: poissonProblem(columns, counts, lo, hi),
  };
}

/** The same for maximum likelihood: unweighted columns of area 1 in the range, and rough expected counts to start from. */
function poissonProblem(columns, counts, lo, hi) {
  const used = columns.flatMap((values) => {
    const area = values.subarray(lo, hi).reduce((sum, value) => sum + value, 0);
    return area > 0 ? [columnOf(values.map((value) => value / area))] : [];
  });
  const roughly = counts.map((_, i) => {
    const around = counts.subarray(Math.max(lo, i - 2), Math.min(hi, i + 3));
    return Math.max(0.2, around.reduce((sum, count) => sum + count, 0) / Math.max(1, around.length));
  });
  return { columns: used, counts, lo, hi, lower: new Float64Array(used.length), prior: null, roughly };
}

function unit(values) {
  const norm = Math.hypot(...values);
  return norm > 0 ? values.map((value) => value / norm) : null;
}

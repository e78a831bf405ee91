import type { InstrumentEstimate } from '../fit/shared-instrument.ts';
import { explainInstrument } from '../identify/explain.ts';
import { instrumentEstimate } from '../identify/instrument-estimate.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { AloneOptions } from './conditions.ts';
import { guarded, prepare, underOf } from './prepare.ts';

/**
 * What a spectrum, read on its own, says of its instrument: axis, resolution, shelf, pile-up, window, line ratios. Estimates of a
 * session go to `shareInstrument`, whose knowledge of the instrument goes back to `identify` as an option.
 * @throws as identify does
 */
export function readInstrument(spectrum: Spectrum, options: AloneOptions = {}): InstrumentEstimate {
  return guarded(spectrum, () => {
    const prepared = prepare(spectrum, options);
    return instrumentEstimate(spectrum, explainInstrument(spectrum, underOf(prepared, null, prepared.barred)));
  });
}

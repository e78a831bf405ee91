import { zOf } from '../atomic/elements.ts';
import type { InstrumentEstimate } from '../fit/shared-instrument.ts';
import { explain, type ExplainConditions, type Explanation } from '../identify/explain.ts';
import { instrumentEstimate, instrumentPull } from '../identify/instrument-estimate.ts';
import { mountOrigins } from '../identify/mount.ts';
import type { InstrumentKnowledge } from '../model/instrument-knowledge.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { WarningData } from '../telling/words/warnings.ts';
import { conditionsOf, type IdentifyOptions } from './conditions.ts';

/**
 * What a spectrum, read on its own, says of its instrument: axis, resolution, shelf, pile-up, window, line ratios. Estimates of a
 * session go to `shareInstrument`, whose knowledge of the instrument goes back to `identify` as an option.
 */
export function readInstrument(spectrum: Spectrum, options: IdentifyOptions = {}): InstrumentEstimate {
  const { beamKev, takeOffDeg } = conditionsOf(spectrum, options);
  const explanation = explain(spectrum, {
    beamEv: beamKev.value * 1000,
    takeOffDeg: takeOffDeg.value,
    mounted: new Set(mountOrigins(options.mount ?? []).keys()),
    without: (options.without ?? []).flatMap((symbol) => zOf(symbol) ?? []),
  });
  return instrumentEstimate(spectrum, explanation);
}

/** Pull of a spectrum on what its session knows, in standard deviations, beyond which that is not used. */
const DIFFERS = 4;

/** Explains with the session's knowledge of the instrument; where the counts contradict that, without it, and says so. */
export function explainKnowing(
  spectrum: Spectrum,
  conditions: ExplainConditions,
): {
  readonly explanation: Explanation;
  readonly known: InstrumentKnowledge | null;
  readonly warnings: readonly WarningData[];
} {
  const known = conditions.instrument ?? null;
  const explanation = explain(spectrum, conditions);
  if (!known) return { explanation, known, warnings: [] };
  const pull = instrumentPull(explanation);
  if (pull.sigmas <= DIFFERS) return { explanation, known, warnings: [] };
  return {
    explanation: explain(spectrum, { ...conditions, instrument: null }),
    known: null,
    warnings: [{ code: 'instrument-differs', ...pull }],
  };
}

import { zOf } from '../atomic/elements.ts';
import { USUAL } from '../fit/instrument-prior.ts';
import type { InstrumentEstimate } from '../fit/shared-instrument.ts';
import { explain, type ExplainConditions, type Explanation } from '../identify/explain.ts';
import { instrumentEstimate, instrumentPull } from '../identify/instrument-estimate.ts';
import { mountOrigins } from '../identify/mount.ts';
import type { InstrumentKnowledge } from '../model/instrument-knowledge.ts';
import type { Spectrum, Warning } from '../spectrum/spectrum.ts';
import { conditionsOf, type IdentifyOptions } from './conditions.ts';
import type { LimnerRecord } from './record.ts';

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
  readonly warnings: readonly Warning[];
} {
  const known = conditions.instrument ?? null;
  const explanation = explain(spectrum, conditions);
  if (!known) return { explanation, known, warnings: [] };
  const pull = instrumentPull(explanation);
  if (pull.sigmas <= DIFFERS) return { explanation, known, warnings: [] };
  return {
    explanation: explain(spectrum, { ...conditions, instrument: null }),
    known: null,
    warnings: [
      {
        code: 'instrument-differs',
        text: `The ${pull.quantity} of this spectrum lies ${pull.sigmas.toFixed(0)} standard deviations from what the other spectra of the session say: it was read on its own. Were settings changed?`,
      },
    ],
  };
}

/**
 * How far a session's knowledge narrows what is usual of any instrument, as standard uncertainties, and the lessons of known
 * materials that bear on a reading.
 * @param zs elements of the reading
 */
export function narrowed(known: InstrumentKnowledge | null, zs: readonly number[]): LimnerRecord['axis']['shared'] {
  if (!known) return null;
  const { spectra, pivotEv, positionSigmaEv, gainSigma, noiseEv, taught } = known;
  return {
    spectra,
    pivotEv,
    positionEv: { usual: USUAL.offsetEv, known: positionSigmaEv },
    gain: { usual: USUAL.gain, known: gainSigma },
    noiseEv: { usual: USUAL.noiseEv, known: noiseEv.sigma },
    lessons: taught.lessons
      .filter(({ z }) => z === null || zs.includes(z))
      .map(({ quantity, by, before, after }) => ({ quantity, by: [...by], before, after })),
  };
}

import { USUAL } from '../fit/instrument-prior.ts';
import type { InstrumentKnowledge } from '../model/instrument-knowledge.ts';
import type { LimnerRecord } from './record.ts';

/**
 * How far a session's knowledge narrows what is usual of any instrument, as standard uncertainties, and the findings of reference
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
    lessons: taught.findings
      .filter(({ z }) => z === null || zs.includes(z))
      .map(({ quantity, by, before, after }) => ({ quantity, by: [...by], before, after })),
  };
}

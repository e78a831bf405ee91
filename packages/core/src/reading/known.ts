import { log } from '../arithmetic/exponential.ts';
import type { MassFractions } from '../atomic/composition.ts';
import { layerResponse, type AmountEvidence, type Layers } from '../fit/reference-layers.ts';
import type { KnownEvidence } from '../fit/reference-materials.ts';
import type { InstrumentEstimate } from '../fit/shared-instrument.ts';
import type { Explanation } from '../identify/explain.ts';
import { findingsOf } from '../identify/findings.ts';
import type { FindingData } from '../identify/finding.ts';
import { instrumentEstimate } from '../identify/instrument-estimate.ts';
import { FAMILY_DOUBT, type Family } from '../model/groups.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { AloneOptions } from './conditions.ts';
import { contradictionsOf } from './label.ts';
import { explainedWith, guarded, prepare } from './prepare.ts';
import { contradictionText } from '../telling/words/contradiction.ts';

/** A spectrum of a known material, read on its own. Plain data. */
export interface KnownReading {
  readonly estimate: InstrumentEstimate;
  readonly evidence: KnownEvidence;
  /** Elements that are there and should not be, or the other way round: it teaches nothing then. `taughtBy` judges the amounts. */
  readonly contradictions: readonly string[];
}

/** Elements below this mass fraction teach nothing: traces and overlaps rule there. */
const LEAST_FRACTION = 0.02;
/** Coats and dirt bring carbon: it is never held against a label. */
const CARBON = 6;
/** Beside its family's, an amount's doubt but for window and ice: absorption below 1 keV. */
const PHYSICS = { soft: 0.1, softBelow: 1000 };

/**
 * Reads a spectrum whose material is known: what it says of the instrument, what its amounts and line ratios teach, and whether
 * the counts agree with the label.
 * @param known mass fractions; what they hold is never barred
 * @throws as identify does
 */
export function readKnown(spectrum: Spectrum, known: MassFractions, options: AloneOptions = {}): KnownReading {
  return guarded(spectrum, () => read(spectrum, known, options));
}

function read(spectrum: Spectrum, known: MassFractions, options: AloneOptions): KnownReading {
  const prepared = prepare(spectrum, options);
  const barred = prepared.barred.filter((z) => !(known[z] > 0));
  const explanation = explainedWith(prepared, null, { without: barred, compared: true });
  const findings = findingsOf(explanation, prepared.origins);
  const contradictions = contradictionsOf(findings, known).map(contradictionText);
  const estimate = instrumentEstimate(spectrum, explanation);
  const own = new Set(findings.filter(({ z, verdict }) => known[z] > 0 && verdict === 'present').map(({ z }) => z));
  return {
    estimate,
    evidence: {
      by: spectrum.source.name,
      layers: layersOf(explanation),
      amounts: contradictions.length > 0 ? [] : amountsOf(explanation, findings, known),
      ratios: contradictions.length > 0 ? [] : estimate.ratios.filter(({ z }) => own.has(z)),
    },
    contradictions,
  };
}

export function amountsOf(
  { fit, fitted }: Explanation,
  findings: readonly FindingData[],
  known: MassFractions,
): AmountEvidence[] {
  const { areas } = fit.design;
  const { detector } = fit.at.instrument;
  return findings.flatMap(({ z, verdict, massFraction, lines }) => {
    if (verdict !== 'present' || z === CARBON || !massFraction || known[z] < LEAST_FRACTION) return [];
    const { amount, sigma } = fitted.get(z)!;
    const [line] = [...lines].sort((a, b) => b.counts - a.counts);
    const family = FAMILY_DOUBT[(line?.line[0] ?? 'L') as Family];
    const soft = line && line.energyEv < PHYSICS.softBelow ? PHYSICS.soft : 0;
    return [
      {
        z,
        logRatio: log(massFraction.value / known[z]),
        sigma: Math.hypot(sigma / amount, family, soft),
        ...layerResponse(z, areas, detector),
      },
    ];
  });
}

export function layersOf({ fit }: Explanation): Layers {
  const { window, windowUm, iceUm } = fit.at.instrument.detector;
  return { window, windowUm, iceUm };
}

import type { MassFractions } from '../atomic/composition.ts';
import { measuredElements } from '../evidence/measured-elements.ts';
import type { ReferenceGrain } from '../evidence/reference-grain.ts';
import { taughtBy } from '../fit/reference-materials.ts';
import { findingsOf } from '../identify/findings.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { contradictionText } from '../telling/words/contradiction.ts';
import type { PrepareOptions } from './conditions.ts';
import { amountsOf, layersOf } from './known.ts';
import { contradictionsOf } from './label.ts';
import { explainedWith, guarded, prepare } from './prepare.ts';

/** What a reference grain is said to be. */
export interface ReferenceLabel {
  readonly name: string;
  readonly label: string;
  /** Mass fractions by that label. */
  readonly known: MassFractions;
}

/**
 * Reads a reference grain: what its counts are, beside what the label says, so that grains can be held against it. To be read with the
 * options and the knowledge of the instrument that the grains are read with; its own header says its beam energy.
 * @throws as identify does
 */
export function readReference(spectrum: Spectrum, label: ReferenceLabel, options: PrepareOptions = {}): ReferenceGrain {
  return guarded(spectrum, () => read(spectrum, label, options));
}

function read(spectrum: Spectrum, { name, label, known }: ReferenceLabel, options: PrepareOptions): ReferenceGrain {
  const { beamKev, ...others } = options;
  const prepared = prepare(spectrum, spectrum.beamKev === null && beamKev !== undefined ? options : others);
  const barred = prepared.barred.filter((z) => !(known[z] > 0));
  const explanation = explainedWith(prepared, prepared.instrument, { without: barred, compared: true });
  const findings = findingsOf(explanation, prepared.origins);
  const elements = contradictionsOf(findings, known);
  const amounts = amountsOf(explanation, findings, known);
  const evidence = { by: name, layers: layersOf(explanation), amounts, ratios: [] };
  const contradictions = [...elements, ...(taughtBy([evidence]).contradicted.get(name) ?? [])];
  return {
    name,
    label,
    beamKev: prepared.conditions.beamKev.value,
    takeOffDeg: prepared.conditions.takeOffDeg.value,
    stated: [...known].flatMap((massFraction, z) => (massFraction > 0 ? [{ z, massFraction }] : [])),
    elements: measuredElements(findings),
    contradictions: contradictions.map(contradictionText),
  };
}

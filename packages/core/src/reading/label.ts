import type { MassFractions } from '../atomic/composition.ts';
import type { FindingData } from '../identify/finding.ts';
import type { ContradictionData } from '../telling/words/contradiction.ts';

/** More of a foreign element than this contradicts a label, where it is that for sure; mass fraction. */
const FOREIGN = 0.03;
const FOR_SURE = 3;
/** Oxygen and what is lighter come with coats, resin and dirt, or hide behind the window. */
const OXYGEN = 8;

/** Elements that contradict what a material is said to be. @param known its mass fractions */
export function contradictionsOf(findings: readonly FindingData[], known: MassFractions): ContradictionData[] {
  return findings.flatMap(({ z, verdict, origin, massFraction, limit }): ContradictionData[] => {
    if (z <= OXYGEN) return [];
    if (known[z] > 0) {
      return verdict === 'not-seen' && limit !== null && known[z] > 2 * limit.massFraction
        ? [{ kind: 'missing', z, expected: known[z], limit: limit.massFraction }]
        : [];
    }
    const foreign = verdict === 'present' && origin !== 'setting' && massFraction !== null;
    return foreign && massFraction.value - FOR_SURE * massFraction.sigma > FOREIGN
      ? [{ kind: 'foreign', z, massFraction: massFraction.value }]
      : [];
  });
}

import type { SetAsideData } from '../../evidence/held-against.ts';
import { trimmed } from '../terms/numerals.ts';

/** Why a reference says nothing of a grain, as a sentence. */
export function setAsideText({ why, beamKev, takeOffDeg, contradictions }: SetAsideData): string {
  switch (why) {
    case 'beam':
      return `It was measured at ${trimmed(beamKev, 3)}\u00a0keV, not at the beam energy of this spectrum, so it is not used.`;
    case 'take-off':
      return `It was measured at a take-off angle of ${trimmed(takeOffDeg, 3)}\u00b0, not at that of this spectrum, so it is not used.`;
    case 'label':
      return `Its counts contradict its label. ${contradictions.join(' ')}`;
    case 'other-references':
      return 'It contradicts the other references: one label is wrong. Check them.';
  }
}

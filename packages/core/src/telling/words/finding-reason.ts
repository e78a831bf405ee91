import type { ElementFinding, FindingData, FindingReason, Rival } from '../../identify/finding.ts';
import { isCrowd, membersOf, rivalName } from '../terms/names.ts';
import { numberWord, significant } from '../terms/numerals.ts';

/** A finding with its reason in words, as the record has it. */
export function wordedFinding(finding: FindingData): ElementFinding {
  return { ...finding, reason: findingReason(finding.reason) };
}

/** Why a verdict is what it is: one sentence. */
export function findingReason(reason: FindingReason): string {
  switch (reason.kind) {
    case 'not-excited':
      return 'No line of it is both excited by this beam and inside the fitted range.';
    case 'hidden':
      return 'Its lines lie under others, or would be too weak here to be seen.';
    case 'no-counts':
      return 'No counts call for it.';
    case 'gains-little':
      return 'Adding it improves the fit, but not enough to require it.';
    case 'stands-in':
      return `It could stand in for ${reason.for}.`;
    case 'required':
      return `Leaving it out raises chi-square by ${chiSquare(reason.rise)}${against(reason.rival)}`;
    case 'short':
      return `Leaving it out raises chi-square by ${chiSquare(reason.rise)}, less than an element with its lines must show.`;
    case 'rival-fits':
      return `The rival ${rivalName(reason.rival)} fits about as well (chi-square differs by ${chiSquare(Math.abs(reason.rival.deltaC))}).`;
    case 'faint':
      return `Its own amount is only ${significant(reason.sigmas, 2)} standard deviations of the final fit.`;
    case 'behind-window':
      return 'The detector window hardly lets its line through.';
    case 'detector-own':
      return 'The detector itself can bring so few counts.';
    case 'no-peak':
      return 'None of its lines stands as a peak above its neighbours and the background.';
    case 'axis-doubtful':
      return 'The energy axis is in doubt: nothing can be required on it.';
    case 'excitation-doubtful':
      return 'The lines were not excited by electrons, as the model has it: only plain peaks are believed.';
    case 'poor-fit-here':
      return 'The model fits poorly where its lines lie.';
    case 'rare':
      return `The evidence hardly exceeds what so rare an element must show (chi-square ${significant(reason.asked, 2)}).`;
  }
}

/** What the best rival costs. */
function against(rival: Rival | null): string {
  if (rival === null) return '; nothing else takes its place.';
  if (isCrowd(rival))
    return `. No single rival; ${numberWord(membersOf(rival).length)} elements together still fit worse.`;
  return `; the best rival, ${rivalName(rival)}, raises it by ${chiSquare(rival.deltaC)}.`;
}

/** A difference of chi-square: two digits, the second is noise already. */
export const chiSquare = (value: number): string => significant(value, Math.abs(value) < 1 ? 1 : 2);

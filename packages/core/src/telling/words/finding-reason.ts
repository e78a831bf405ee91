import type { ElementFinding, FindingData, FindingReason, Rival } from '../../identify/finding.ts';
import { isCrowd, membersOf, rivalName } from '../terms/names.ts';
import { numberWord, significant } from '../terms/numerals.ts';

/** A finding with its reason in words, as the record has it. */
export function wordedFinding(finding: FindingData): ElementFinding {
  return { ...finding, reason: findingReason(finding.reason) };
}

/** Why a verdict is what it is: a sentence, and a second where the detector may be the source. */
export function findingReason(reason: FindingReason): string {
  switch (reason.kind) {
    case 'not-excited':
      return 'No line is both excited by this beam and inside the fitted range.';
    case 'hidden':
      return 'All of its lines lie under others, or would be too weak to see here.';
    case 'no-counts':
      return 'No counts require it.';
    case 'gains-little':
      return 'Adding it improves the fit, but not enough to require it.';
    case 'stands-in':
      return `It could stand in for ${reason.for}.`;
    case 'required':
      return `Leaving it out raises chi-square by ${chiSquare(reason.rise)}${against(reason.rival)}${reason.orDetector ? ` ${DETECTOR_CAN}` : ''}`;
    case 'short':
      return `Leaving it out raises chi-square by ${chiSquare(reason.rise)}, not enough to call it present.`;
    case 'rival-fits':
      return `The rival ${rivalName(reason.rival)} fits about as well (chi-square differs by ${chiSquare(Math.abs(reason.rival.deltaC))}).`;
    case 'faint':
      return `Its amount is only ${significant(reason.sigmas, 2)} standard deviations above zero in the final fit.`;
    case 'behind-window':
      return 'The detector window lets almost none of its line through.';
    case 'detector-own':
      return DETECTOR_CAN;
    case 'holder':
      return 'The stub, the holder or the chamber could account for so small an amount: measure a spot beside the grain.';
    case 'no-peak':
      return 'None of its lines stands out as a peak above the background and its neighbours.';
    case 'misplaced': {
      const where = `${significant(Math.abs(reason.shiftEv), 2)}\u00a0eV ${reason.shiftEv < 0 ? 'below' : 'above'}`;
      return `Its ${reason.group} peak lies ${where} where it should (by ${significant(reason.sigmas, 2)} standard deviations): more likely the flank of a neighbour than a line of its own.`;
    }
    case 'axis-doubtful':
      return 'The energy axis is in doubt, so no element can be called present.';
    case 'excitation-doubtful':
      return 'The lines do not look excited by electrons, as the model assumes: only clear peaks are accepted.';
    case 'unfinished':
      return 'The reading ended before it was finished, so no element can be called present.';
    case 'poor-fit-here':
      return 'The model fits poorly where its lines lie.';
    case 'rare':
      return `The evidence falls short of what so rare an element requires (chi-square ${significant(reason.asked, 2)}).`;
  }
}

const DETECTOR_CAN = 'The detector itself can produce this many counts.';

/** What the best rival costs. */
function against(rival: Rival | null): string {
  if (rival === null) return '; nothing else takes its place.';
  if (isCrowd(rival))
    return `. It has no single rival; ${numberWord(membersOf(rival).length)} elements together still fit worse.`;
  return `; putting the best rival, ${rivalName(rival)}, in its place raises it by ${chiSquare(rival.deltaC)}.`;
}

/** A difference of chi-square: two digits, the second is noise already. */
export const chiSquare = (value: number): string => significant(value, Math.abs(value) < 1 ? 1 : 2);

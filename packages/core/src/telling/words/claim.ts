import { elementName, zOf } from '../../atomic/elements.ts';
import type { ElementFinding } from '../../identify/finding.ts';
import { AT_ODDS_SIGMAS, type ClaimData } from '../../record/claims.ts';
import type { ClaimAnswer, WithoutAnswer } from '../../record/record.ts';
import { insteadText, lineName } from '../terms/names.ts';
import { keV, listed, measured, percent, trimmed } from '../terms/numerals.ts';
import { chiSquare } from './finding-reason.ts';

export function wordedClaim(claim: ClaimData): ClaimAnswer {
  const { symbol, massFraction, answer, finding } = claim;
  const reason = finding ? claimReason(claim, finding) : `${symbol} is not among the elements looked for.`;
  return { symbol, massFraction, answer, reason };
}

function claimReason(claim: ClaimData, finding: ElementFinding): string {
  const { symbol, reason } = finding;
  if (claim.answer === 'supported')
    return `${symbol} is required by the counts.${measuredBeside(claim, finding)} ${reason}`;
  if (claim.most === null) {
    const under = finding.under === null ? '' : ` Its lines would lie${underNeighbour(finding)}.`;
    return `This spectrum cannot tell. ${reason}${under}`;
  }
  return `${roomFor(claim, finding, claim.most)} ${reason}`;
}

/** The amount claimed beside the measured one. */
function measuredBeside({ massFraction: claimed }: ClaimData, { massFraction: found }: ElementFinding): string {
  if (claimed === null) return '';
  if (found === null) return ' The amount cannot be estimated.';
  const atOdds = Math.abs(found.value - claimed) > AT_ODDS_SIGMAS * found.sigma;
  return ` The measured amount is ${measured(found, 100)}\u00a0% by mass${atOdds ? `, not ${amount(claimed)}` : ''}.`;
}

/** How much of it could be there unseen, and whether what is claimed could. */
function roomFor({ massFraction, answer }: ClaimData, finding: ElementFinding, most: number): string {
  const could = `could ${finding.verdict === 'open' ? 'be' : 'hide'} here${underNeighbour(finding)}`;
  if (massFraction === null) return `It ${could}, up to ${percent(most)} by mass.`;
  const claimed = `${amount(massFraction)} by mass`;
  if (answer === 'cannot-tell') return `${claimed} ${could}: the counts leave room for up to ${percent(most)}.`;
  return `${claimed} would show${byLine(finding)}: no more than ${percent(most)} ${could}.`;
}

const amount = (massFraction: number): string => `${trimmed(100 * massFraction, 3)}\u00a0%`;

/** ' under zinc' where an element hides it. */
const underNeighbour = ({ under }: ElementFinding): string =>
  under === null ? '' : ` under ${elementName(zOf(under) ?? 0)}`;

function byLine({ lines: [line] }: ElementFinding): string {
  return line === undefined ? '' : ` in ${lineName(line)} at ${keV(line.energyEv)}`;
}

/** What takes the place of elements that may not be used. */
export function wordedWithout(without: Omit<WithoutAnswer, 'reason'>): WithoutAnswer {
  const { symbols, instead, deltaC } = without;
  const its = symbols.length > 1 ? 'their' : 'its';
  const place =
    instead.length > 0
      ? `${insteadText(instead)} ${instead.length > 1 ? 'take' : 'takes'} ${its} place`
      : `nothing takes ${its} place`;
  const change = deltaC < 0 ? 'falls' : 'rises';
  return {
    ...without,
    reason: `Without ${listed(symbols)}, ${place}; penalised chi-square ${change} by ${chiSquare(Math.abs(deltaC))}.`,
  };
}

import type { ElementFinding } from '../../identify/finding.ts';
import type { ClaimData } from '../../record/claims.ts';
import type { ClaimAnswer, WithoutAnswer } from '../../record/record.ts';
import { lineName } from '../terms/names.ts';
import { keV, listed, percent, significant } from '../terms/numerals.ts';
import { chiSquare } from './finding-reason.ts';

export function wordedClaim({ symbol, answer, finding }: ClaimData): ClaimAnswer {
  return { symbol, answer, reason: finding ? claimReason(finding) : `${symbol} is not among the elements looked for.` };
}

function claimReason(finding: ElementFinding): string {
  const { symbol, verdict, reason } = finding;
  switch (verdict) {
    case 'present':
      return `${symbol} is required by the counts. ${reason}`;
    case 'open':
      return `${symbol} is possible, but not required. ${reason}`;
    case 'not-seen':
      return `${symbol} would have been seen${limitOf(finding)}. ${reason}`;
    case 'blind':
      return `This spectrum cannot tell. ${reason}`;
  }
}

/** From what amount it would have been seen, and where. */
function limitOf({ limit, lines: [line] }: ElementFinding): string {
  if (limit === null) return '';
  const above = ` above a mass fraction of about ${percent(limit.massFraction)}`;
  if (line === undefined) return above;
  return `${above}, by ${lineName(line)} at ${keV(line.energyEv)} (at least ${significant(limit.counts, 2)} counts in all its lines)`;
}

/** What takes the place of elements that may not be used. */
export function wordedWithout(without: Omit<WithoutAnswer, 'reason'>): WithoutAnswer {
  const { symbols, instead, deltaC } = without;
  const place =
    instead.length > 0
      ? `${listed(instead)} ${instead.length > 1 ? 'take' : 'takes'} the place`
      : `nothing takes ${symbols.length > 1 ? 'their' : 'its'} place`;
  const change = deltaC < 0 ? 'falls' : 'rises';
  return {
    ...without,
    reason: `Without ${listed(symbols)}, ${place}; penalised chi-square ${change} by ${chiSquare(Math.abs(deltaC))}.`,
  };
}

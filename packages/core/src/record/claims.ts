import type { Claim } from '../identify/claim.ts';
import type { ElementFinding } from '../identify/finding.ts';
import type { ClaimAnswer } from './record.ts';

/** An answer to a claim, with what it rests on. */
export interface ClaimData extends Omit<ClaimAnswer, 'reason'> {
  /** Null: the element is not looked for. */
  readonly finding: ElementFinding | null;
  /** Largest mass fraction that the counts leave room for; null where they say nothing. */
  readonly most: number | null;
}

/** An amount is at odds with a measured one beyond this many of its standard deviations. */
export const AT_ODDS_SIGMAS = 3;

/**
 * Answers to the user's claims, from the findings on the same elements. What the counts do not require may still be there: only an
 * amount for which they leave no room is contradicted.
 */
export function answerClaims(claims: readonly Claim[], findings: readonly ElementFinding[]): ClaimData[] {
  return claims.map((claim) => {
    const finding = findings.find(({ symbol }) => symbol === claim.symbol) ?? null;
    const most = finding && mostOf(finding);
    return { ...claim, answer: answerTo(claim, finding, most), finding, most };
  });
}

function answerTo({ massFraction }: Claim, finding: ElementFinding | null, most: number | null): ClaimAnswer['answer'] {
  if (finding?.verdict === 'present') return 'supported';
  return massFraction !== null && most !== null && massFraction > most ? 'contradicted' : 'cannot-tell';
}

/** Up to its limit an element may go unseen; one that the counts take up may be there in what they would take besides. */
function mostOf({ verdict, limit, massFraction, counts }: ElementFinding): number | null {
  if (limit === null) return null;
  if (verdict !== 'open') return limit.massFraction;
  const taken = massFraction ?? {
    value: fractionAt(counts.value, limit),
    sigma: fractionAt(counts.sigma, limit),
  };
  return Math.min(1, Math.max(limit.massFraction, taken.value + AT_ODDS_SIGMAS * taken.sigma));
}

/** Mass fraction of so many counts, beside all else as it is: the limit is known both ways. */
function fractionAt(counts: number, limit: NonNullable<ElementFinding['limit']>): number {
  const toRest = ((counts / limit.counts) * limit.massFraction) / (1 - limit.massFraction);
  return Number.isFinite(toRest) ? toRest / (1 + toRest) : 1;
}

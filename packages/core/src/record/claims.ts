import type { ElementFinding } from '../identify/finding.ts';
import type { ClaimAnswer } from './record.ts';

/** An answer to a claim, with the finding that it rests on; null: the element is not looked for. */
export type ClaimData = Pick<ClaimAnswer, 'symbol' | 'answer'> & { readonly finding: ElementFinding | null };

const ANSWERS = {
  present: 'supported',
  open: 'not-needed',
  'not-seen': 'contradicted',
  blind: 'cannot-tell',
} as const;

/** Answers to the user's claims, from the findings on the same elements. */
export function answerClaims(claims: readonly string[], findings: readonly ElementFinding[]): ClaimData[] {
  return claims.map((symbol) => {
    const finding = findings.find((other) => other.symbol === symbol) ?? null;
    return { symbol, answer: finding === null ? 'cannot-tell' : ANSWERS[finding.verdict], finding };
  });
}

import type { ElementFinding } from '../identify/finding.ts';
import type { ClaimAnswer, WithoutAnswer } from './record.ts';

/** Answers to the user's claims, from the findings on the same elements. */
export function answerClaims(claims: readonly string[], findings: readonly ElementFinding[]): ClaimAnswer[] {
  return claims.map((symbol) => {
    const finding = findings.find((other) => other.symbol === symbol);
    if (!finding) return { symbol, answer: 'cannot-tell', reason: `${symbol} is not among the elements looked for.` };
    const limit = finding.limit ? ` above a mass fraction of about ${percent(finding.limit.massFraction)}` : '';
    switch (finding.verdict) {
      case 'present':
        return { symbol, answer: 'supported', reason: `${symbol} is required by the counts: ${finding.reason}.` };
      case 'open':
        return { symbol, answer: 'not-needed', reason: `${symbol} is possible but not required: ${finding.reason}.` };
      case 'not-seen':
        return {
          symbol,
          answer: 'contradicted',
          reason: `${symbol} would have been seen${limit}${bestLine(finding)}; no counts ask for it.`,
        };
      case 'blind':
        return { symbol, answer: 'cannot-tell', reason: `This spectrum cannot tell: ${finding.reason}.` };
    }
  });
}

/** What takes the place of the barred elements, and how much worse the counts are explained. */
export function answerWithout(
  barred: readonly string[],
  usual: readonly string[],
  instead: readonly string[],
  deltaC: number,
): WithoutAnswer {
  const added = instead.filter((symbol) => !usual.includes(symbol));
  const place = added.length > 0 ? `${added.join(', ')} would take the place` : 'nothing takes the place';
  return {
    symbols: [...barred],
    instead: added,
    deltaC,
    reason: `Without ${barred.join(', ')}, ${place}; the counts are then explained worse by ${deltaC.toFixed(0)} (penalised chi-square).`,
  };
}

/** Where it would have been seen: its strongest line in this spectrum. */
function bestLine({ lines, limit }: ElementFinding): string {
  const line = lines[0];
  if (!line || !limit) return '';
  const name = line.siegbahn ?? line.line;
  return ` by ${name} at ${(line.energyEv / 1000).toFixed(2)} keV (at least ${limit.counts.toPrecision(2)} counts in all its lines)`;
}

function percent(fraction: number): string {
  return `${(100 * fraction).toPrecision(2)} %`;
}

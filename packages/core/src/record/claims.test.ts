import { describe, expect, it } from 'vitest';
import { finding } from '../../../../tests/fixtures/record.ts';
import type { ElementFinding } from '../identify/finding.ts';
import { answerClaims } from './claims.ts';

const limit = { counts: 1000, massFraction: 0.12 };
const unseen = finding('Na', 11, 0, { verdict: 'not-seen', limit });

function answered(massFraction: number | null, one: ElementFinding): string {
  const [{ answer, massFraction: kept }] = answerClaims([{ symbol: one.symbol, massFraction }], [one]);
  expect(kept).toBe(massFraction);
  return answer;
}

describe('a claim', () => {
  it('without an amount is supported or cannot be told, never contradicted', () => {
    for (const verdict of ['open', 'not-seen', 'blind'] as const)
      expect(answered(null, { ...unseen, verdict }), verdict).toBe('cannot-tell');
    expect(answered(null, { ...unseen, verdict: 'present' })).toBe('supported');
  });

  it('of an amount is contradicted only above the limit', () => {
    expect(answered(0.12, unseen)).toBe('cannot-tell');
    expect(answered(0.121, unseen)).toBe('contradicted');
    expect(answered(1, { ...unseen, verdict: 'blind', limit: null })).toBe('cannot-tell');
  });

  it('on an open element is contradicted only above what the counts take up as well', () => {
    const open = { ...unseen, verdict: 'open' as const, massFraction: { value: 0.1, sigma: 0.02 } };
    // 0.1 + 3 * 0.02 = 0.16, above the limit.
    expect(answered(0.155, open)).toBe('cannot-tell');
    expect(answered(0.165, open)).toBe('contradicted');
    // Below the limit, that decides.
    const faint = { ...open, massFraction: { value: 0.02, sigma: 0.01 } };
    expect(answered(0.11, faint)).toBe('cannot-tell');
    expect(answered(0.13, faint)).toBe('contradicted');
  });

  it('on an open element outside the fit goes by its counts, at the scale of the limit', () => {
    const beside = { ...unseen, verdict: 'open' as const, massFraction: null };
    // As many counts as at the limit are 12 %; with no uncertainty, that is the most.
    const at = (value: number, sigma: number) => ({ ...beside, counts: { value, sigma } });
    expect(answered(0.121, at(1000, 0))).toBe('contradicted');
    // Twice the counts: 2 * 0.12 / 0.88 beside the rest, 21.4 % of the whole.
    expect(answered(0.21, at(2000, 0))).toBe('cannot-tell');
    expect(answered(0.22, at(2000, 0))).toBe('contradicted');
    expect(answered(0.22, at(2000, 100))).toBe('cannot-tell');
  });
});

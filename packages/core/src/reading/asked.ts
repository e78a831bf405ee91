import { atomicNumber } from '../atomic/elements.ts';
import type { Claim } from '../identify/claim.ts';

/** A claim of an amount that nothing can have, or of two amounts of the same element. */
export class UnusableClaimError extends Error {
  override readonly name = 'UnusableClaimError';
}

/** An element that is said to be there, by its symbol alone or with its mass fraction (above 0, up to 1). */
export type ClaimGiven = string | { readonly symbol: string; readonly massFraction: number };

/** Claims as they are tested, each once, in the order given. @throws UnknownElementError, UnusableClaimError */
export function claimsOf(given: readonly ClaimGiven[]): Claim[] {
  const claims = new Map<string, Claim>();
  for (const one of given) {
    const claim = typeof one === 'string' ? { symbol: one, massFraction: null } : amountChecked(one);
    atomicNumber(claim.symbol);
    const before = claims.get(claim.symbol);
    if (before && before.massFraction !== claim.massFraction)
      throw new UnusableClaimError(`${claim.symbol} is claimed with two amounts; claim each element once`);
    claims.set(claim.symbol, claim);
  }
  return [...claims.values()];
}

function amountChecked({ symbol, massFraction }: Exclude<ClaimGiven, string>): Claim {
  if (massFraction > 0 && massFraction <= 1) return { symbol, massFraction };
  throw new UnusableClaimError(
    `a mass fraction of ${massFraction} is claimed for ${symbol}; it must be above 0 and at most 1`,
  );
}

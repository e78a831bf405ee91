import { Type, type Static } from 'typebox';
import type { ElementFinding } from '../identify/finding.ts';
import { fractionIn, materialById } from './knowledge.ts';
import type { PigmentStanding } from './standing.ts';

/** An argument, never a proof: an element that no allowed material brings before a year. */
export const DatingArgument = Type.Object({
  symbol: Type.String(),
  /** First known use of the earliest of those materials; BCE negative. */
  year: Type.Integer(),
  /** Ids of the allowed materials that bring the element. */
  materials: Type.Array(Type.String()),
  reason: Type.String(),
});
export type DatingArgument = Static<typeof DatingArgument>;

/**
 * What the elements present say about the earliest possible date, latest year first. An element argues only when every
 * allowed material that holds it, main part or companion, has a first known use; contaminants do not count for an element
 * that is the specimen's own.
 */
export function datingArguments(
  findings: readonly ElementFinding[],
  standings: readonly PigmentStanding[],
): DatingArgument[] {
  const allowed = standings.filter(({ standing }) => standing === 'allowed');
  return findings
    .filter(({ verdict, origin }) => verdict === 'present' && origin === 'specimen')
    .flatMap(({ symbol }) => argumentOf(symbol, allowed) ?? [])
    .sort((a, b) => b.year - a.year || (a.symbol < b.symbol ? -1 : 1));
}

function argumentOf(symbol: string, allowed: readonly PigmentStanding[]): DatingArgument | null {
  const carriers = allowed.filter((standing) => standing.class !== 'contaminant' && brings(standing.id, symbol));
  const years = carriers.map(({ earliestUse }) => earliestUse ?? -Infinity);
  const year = Math.min(...years);
  if (carriers.length === 0 || !Number.isFinite(year)) return null;
  const first = carriers[years.indexOf(year)];
  return {
    symbol,
    year,
    materials: carriers.map(({ id }) => id),
    reason:
      `Of the ${carriers.length} allowed ${carriers.length === 1 ? 'material' : 'materials'} with ${symbol}, ` +
      `${first.name} is the oldest, known from ${yearInWords(year)}; later additions and unknown materials are not excluded.`,
  };
}

function brings(id: string, symbol: string): boolean {
  const material = materialById(id)!;
  return material.companions.includes(symbol) || fractionIn(material, symbol) > 0;
}

function yearInWords(year: number): string {
  return year < 0 ? `about ${-year} BCE` : `about ${year}`;
}

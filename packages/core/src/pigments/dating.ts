import { Type, type Static } from 'typebox';
import type { ElementFinding } from '../identify/finding.ts';
import { fractionIn, type Trust } from './knowledge.ts';
import { type MaterialsInUse, materialsInUse } from './own-materials.ts';
import type { PigmentStanding } from './standing.ts';

/** An argument, never a proof: an element that no allowed material brings before a year. */
export const DatingArgument = Type.Object({
  symbol: Type.String(),
  /** First known use of the earliest of those materials; BCE negative. */
  year: Type.Integer(),
  /** Ids of the allowed materials that bring the element. */
  materials: Type.Array(Type.String()),
  reason: Type.String(),
  /** What would overturn it first. */
  weakestLink: Type.Object({
    kind: Type.Union([
      Type.Literal('element'),
      Type.Literal('trace'),
      Type.Literal('date'),
      Type.Literal('few-materials'),
      Type.Literal('knowledge'),
    ]),
    text: Type.String(),
  }),
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
  materials: MaterialsInUse = materialsInUse(null),
): DatingArgument[] {
  const allowed = standings.filter(({ standing }) => standing === 'allowed');
  return findings
    .filter(({ verdict, origin }) => verdict === 'present' && origin === 'specimen')
    .flatMap((finding) => argumentOf(finding, allowed, materials) ?? [])
    .sort((a, b) => b.year - a.year || (a.symbol < b.symbol ? -1 : 1));
}

function argumentOf(
  finding: ElementFinding,
  allowed: readonly PigmentStanding[],
  materials: MaterialsInUse,
): DatingArgument | null {
  const { symbol } = finding;
  const carriers = allowed.filter(
    (standing) => standing.class !== 'contaminant' && brings(standing.id, symbol, materials),
  );
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
    weakestLink: weakestLink(finding, first, carriers.length, materials.byId(first.id)?.datesTrust ?? 'none'),
  };
}

/** Chance that a first use stands as the sources have it, by their agreement (judgement). */
const DATE_STANDS: Readonly<Record<Trust, number>> = { high: 0.95, medium: 0.8, low: 0.5, none: 0.5 };
/** Chance that an element in traces came with the material and not with dirt, a neighbour or an impurity of another (judgement). */
const TRACE = { below: 0.02, stands: 0.6 };
/** Chance that the knowledge lacks no older material with the element: one carrier, or several (judgement). */
const ALL_KNOWN = { one: 0.75, several: 0.85 };

/** The link of the chain element, origin, material, date that is least likely to hold. */
function weakestLink(
  { symbol, probability, massFraction }: ElementFinding,
  first: PigmentStanding,
  carriers: number,
  trust: Trust,
): DatingArgument['weakestLink'] {
  const share = massFraction?.value ?? 0;
  const links: (DatingArgument['weakestLink'] & { readonly stands: number })[] = [
    {
      kind: 'element',
      stands: probability,
      text: `that ${symbol} is there at all (probability ${probability.toFixed(2)})`,
    },
    {
      kind: 'date',
      stands: DATE_STANDS[trust],
      text: `the first use of ${first.name}, about which sources ${trust === 'medium' ? 'differ by decades' : trust === 'high' ? 'agree' : 'are few or disagree'}`,
    },
    {
      kind: carriers === 1 ? 'few-materials' : 'knowledge',
      stands: carriers === 1 ? ALL_KNOWN.one : ALL_KNOWN.several,
      text:
        carriers === 1
          ? `that only ${first.name} brings ${symbol}: natural admixtures and materials that are not listed would bring it earlier`
          : `that no older material with ${symbol} is missing from the list`,
    },
  ];
  if (share < TRACE.below) {
    links.push({
      kind: 'trace',
      stands: TRACE.stands,
      text: `that so little ${symbol} belongs to the paint: dirt, a neighbouring grain or an impurity would bring it too`,
    });
  }
  const { kind, text } = links.reduce((weakest, link) => (link.stands < weakest.stands ? link : weakest));
  return { kind, text };
}

function brings(id: string, symbol: string, { byId }: MaterialsInUse): boolean {
  const material = byId(id);
  if (material === undefined) return false;
  return material.companions.includes(symbol) || fractionIn(material, symbol) > 0;
}

/** 'about 1704', 'about 400 BCE'. */
export function yearInWords(year: number): string {
  return year < 0 ? `about ${-year} BCE` : `about ${year}`;
}

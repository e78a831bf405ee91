import { Type, type Static } from 'typebox';
import type { Finding } from '../identify/finding.ts';
import { fractionIn, type Trust } from './knowledge.ts';
import { type MaterialsInUse, materialsInUse } from './own-materials.ts';
import type { Standing } from './standing.ts';

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

/** What would overturn an argument first. */
export type WeakestLink =
  | { readonly kind: 'element'; readonly probability: number }
  | { readonly kind: 'date'; readonly trust: Trust }
  | { readonly kind: 'trace' | 'few-materials' | 'knowledge' };

/** The argument as data; `telling` words it for the record. */
export interface DatingData extends Pick<DatingArgument, 'symbol' | 'year' | 'materials'> {
  /** Name of the oldest of the materials. */
  readonly oldest: string;
  readonly weakestLink: WeakestLink;
}

/**
 * What the elements present say about the earliest possible date, latest year first. An element argues only when every
 * allowed material that holds it, main part or companion, has a first known use; contaminants do not count for an element
 * that is the specimen's own.
 */
export function datingArguments(
  findings: readonly Finding[],
  standings: readonly Standing[],
  materials: MaterialsInUse = materialsInUse(null),
): DatingData[] {
  const allowed = standings.filter(({ standing }) => standing === 'allowed');
  return findings
    .filter(({ verdict, origin }) => verdict === 'present' && origin === 'specimen')
    .flatMap((finding) => argumentOf(finding, allowed, materials) ?? [])
    .sort((a, b) => b.year - a.year || (a.symbol < b.symbol ? -1 : 1));
}

function argumentOf(finding: Finding, allowed: readonly Standing[], materials: MaterialsInUse): DatingData | null {
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
    oldest: first.name,
    weakestLink: weakestLink(finding, carriers.length, materials.byId(first.id)?.datesTrust ?? 'none'),
  };
}

/** Chance that a first use stands as the sources have it, by their agreement (judgement). */
const DATE_STANDS: Readonly<Record<Trust, number>> = { high: 0.95, medium: 0.8, low: 0.5, none: 0.5 };
/** Chance that an element in traces came with the material and not with dirt, a neighbour or an impurity of another (judgement). */
const TRACE = { below: 0.02, stands: 0.6 };
/** Chance that the knowledge lacks no older material with the element: one carrier, or several (judgement). */
const ALL_KNOWN = { one: 0.75, several: 0.85 };

/** The link of the chain element, origin, material, date that is least likely to hold. */
function weakestLink({ probability, massFraction }: Finding, carriers: number, trust: Trust): WeakestLink {
  const one = carriers === 1;
  const links: { readonly link: WeakestLink; readonly stands: number }[] = [
    { link: { kind: 'element', probability }, stands: probability },
    { link: { kind: 'date', trust }, stands: DATE_STANDS[trust] },
    { link: { kind: one ? 'few-materials' : 'knowledge' }, stands: one ? ALL_KNOWN.one : ALL_KNOWN.several },
  ];
  if ((massFraction?.value ?? 0) < TRACE.below) links.push({ link: { kind: 'trace' }, stands: TRACE.stands });
  return links.reduce((weakest, other) => (other.stands < weakest.stands ? other : weakest)).link;
}

function brings(id: string, symbol: string, { byId }: MaterialsInUse): boolean {
  const material = byId(id);
  if (material === undefined) return false;
  return material.companions.includes(symbol) || fractionIn(material, symbol) > 0;
}

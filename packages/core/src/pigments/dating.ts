import { Type, type Static } from 'typebox';
import type { Finding } from '../identify/finding.ts';
import { isTelling } from './evidence.ts';
import type { Material, Trust } from './knowledge.ts';
import { type MaterialsInUse, materialsInUse } from './own-materials.ts';
import type { ExplanationShare } from './standing.ts';

/** An argument, never a proof: a year before which some of the explanations of a grain could not have been painted. */
export const DatingArgument = Type.Object({
  /** First known use of the latest part that dates them; BCE negative. */
  year: Type.Integer(),
  /** Share of the weight of all explanations whose parts did not all exist before that year, 0 to 1. */
  probability: Type.Number({ minimum: 0, maximum: 1 }),
  /** Materials (ids) that date them, the likeliest first. */
  materials: Type.Array(Type.String()),
  /** The element that tells most of the likeliest. */
  symbol: Type.String(),
  /** First secured use in painting of the likeliest, where it differs from its first use, and the end of its usual use. */
  inPainting: Type.Union([Type.Integer(), Type.Null()]),
  until: Type.Union([Type.Integer(), Type.Null()]),
  reason: Type.String(),
  /** What would overturn it first. */
  weakestLink: Type.Object({
    kind: Type.Union([
      Type.Literal('element'),
      Type.Literal('explanation'),
      Type.Literal('date'),
      Type.Literal('knowledge'),
    ]),
    text: Type.String(),
  }),
});
export type DatingArgument = Static<typeof DatingArgument>;

/** What would overturn an argument first. */
export type WeakestLink =
  | { readonly kind: 'element'; readonly symbol: string; readonly probability: number }
  | { readonly kind: 'date'; readonly trust: Trust }
  | { readonly kind: 'explanation' | 'knowledge' };

/** The argument as data; `telling` words it for the record. */
export interface DatingData extends Omit<DatingArgument, 'reason' | 'weakestLink'> {
  /** Names of the materials, in the same order. */
  readonly names: readonly string[];
  readonly weakestLink: WeakestLink;
}

/** Put into paint on purpose; what came with it, grew in it or fell on it says nothing of when it was painted. */
const DATING = new Set(['pigment', 'lake', 'metal', 'ground', 'filler']);
/** Part of the materials, by mass, below which one may be a trace of another, of a neighbour or of dirt (judgement). */
const LEAST_PART = 0.05;
/** Shares of the weight that an argument is made for: three in four, and as good as sure. */
const ARGUED = [0.75, 0.9];
/** Share of an argument's weight from which one of its materials is named, though it does not set the year. */
const NAMED = 0.1;

/**
 * What the explanations say about the earliest possible date, latest year first: the latest year that three quarters of their weight
 * argue, and the latest that nine tenths do. Companions, traces, contaminants, alteration products and undated materials neither date nor
 * keep anything from dating.
 */
export function datingArguments(
  findings: readonly Finding[],
  shares: readonly ExplanationShare[],
  materials: MaterialsInUse = materialsInUse(null),
): DatingData[] {
  const dated: { readonly material: Material; readonly year: number; readonly share: number }[] = [];
  for (const { parts, share } of shares) {
    const material = latestOf(parts, materials);
    if (material !== null) dated.push({ material, year: material.earliest!, share });
  }
  dated.sort((a, b) => b.year - a.year);
  const years = ARGUED.flatMap((asked) => {
    let sum = 0;
    return dated.find(({ share }) => (sum += share) >= asked)?.year ?? [];
  });
  return [...new Set(years)].map((year) =>
    argumentOf(
      year,
      dated.filter((one) => one.year >= year),
      findings,
    ),
  );
}

/** Shows by more than carbon or chlorine: medium, salts, glass and mounting bring those, and no organic pigment dates by them. */
const isProvable = ({ required }: Material): boolean => required.some((symbol) => isTelling(symbol) && symbol !== 'Cl');

const DATES = new WeakMap<Material, boolean>();

/** Whether its first use says something of the paint. */
function dates(material: Material): boolean {
  let known = DATES.get(material);
  if (known === undefined) {
    known = DATING.has(material.class) && material.earliest !== null && isProvable(material);
    DATES.set(material, known);
  }
  return known;
}

/** The part of an explanation that came into use last; null where none dates. */
function latestOf(parts: ExplanationShare['parts'], { byId }: MaterialsInUse): Material | null {
  let total = 0;
  for (const { massFraction } of parts) total += massFraction;
  let latest: Material | null = null;
  for (const { id, massFraction } of parts) {
    if (!(massFraction >= LEAST_PART * total)) continue;
    const material = byId(id);
    if (material === undefined || !dates(material)) continue;
    if (latest === null || material.earliest! > latest.earliest!) latest = material;
  }
  return latest;
}

function argumentOf(
  year: number,
  dated: readonly { readonly material: Material; readonly share: number }[],
  findings: readonly Finding[],
): DatingData {
  const shares = new Map<Material, number>();
  for (const { material, share } of dated) shares.set(material, (shares.get(material) ?? 0) + share);
  const probability = Math.min(
    1,
    [...shares.values()].reduce((sum, share) => sum + share, 0),
  );
  // However little it weighs, what sets the year is named where no other does: without it the year would be another.
  const weighty = [...shares].filter(([, share]) => share >= NAMED * probability);
  const isSet = weighty.some(([material]) => material.earliest === year);
  const named = [...shares]
    .filter(([material, share]) => share >= NAMED * probability || (!isSet && material.earliest === year))
    .sort((a, b) => b[1] - a[1])
    .map(([material]) => material);
  const [first] = named;
  return {
    year,
    probability: Math.round(1e4 * probability) / 1e4,
    materials: named.map(({ id }) => id),
    names: named.map(({ name }) => name),
    symbol: first.required[0],
    inPainting: named.length === 1 && first.firstPainting !== first.earliest ? first.firstPainting : null,
    until: named.length === 1 ? first.latest : null,
    weakestLink: weakestLink(named, probability, findings),
  };
}

/** Chance that a first use stands as the sources have it, by their agreement (judgement). */
const DATE_STANDS: Readonly<Record<Trust, number>> = { high: 0.95, medium: 0.8, low: 0.5, none: 0.5 };
/** Chance that the knowledge lacks no older material that would explain the grain as well (judgement). */
const ALL_KNOWN = 0.85;

/** The link of the chain element, explanation, date, knowledge that is least likely to hold. */
function weakestLink(named: readonly Material[], probability: number, findings: readonly Finding[]): WeakestLink {
  const needed = findings.filter(({ symbol }) => named[0].required.includes(symbol));
  const unsure = needed.reduce<Finding | null>((a, b) => (a === null || b.probability < a.probability ? b : a), null);
  const trust = named.reduce<Trust>(
    (worst, { datesTrust: one }) => (DATE_STANDS[one] < DATE_STANDS[worst] ? one : worst),
    'high',
  );
  const links: { readonly link: WeakestLink; readonly stands: number }[] = [
    { link: { kind: 'explanation' }, stands: probability },
    { link: { kind: 'date', trust }, stands: DATE_STANDS[trust] },
    { link: { kind: 'knowledge' }, stands: ALL_KNOWN },
  ];
  if (unsure !== null)
    links.push({
      link: { kind: 'element', symbol: unsure.symbol, probability: unsure.probability },
      stands: unsure.probability,
    });
  return links.reduce((weakest, other) => (other.stands < weakest.stands ? other : weakest)).link;
}

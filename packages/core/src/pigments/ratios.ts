import { Type, type Static } from 'typebox';
import { parseFormula } from '../atomic/composition.ts';
import { atomicWeight, zOf } from '../atomic/elements.ts';
import { type Finding, Measured } from '../identify/finding.ts';
import { fractionIn, KNOWLEDGE_SOURCES, type KnownRatio, KNOWN_RATIOS } from './knowledge.ts';
import { type MaterialsInUse, materialsInUse } from './own-materials.ts';
import { spreadOf, type Term } from './ratio-spread.ts';
import type { Standing } from './standing.ts';

/** An atomic ratio that the trade uses, measured and expected. */
export const ElementRatio = Type.Object({
  id: Type.String(),
  /** Symbols whose atoms are added up above and below the line. */
  numerator: Type.Array(Type.String()),
  denominator: Type.Array(Type.String()),
  /** Atomic ratio with one standard uncertainty, counting and physics; null where one side was not measured. */
  value: Type.Union([Measured, Type.Null()]),
  /** The same by counting alone. */
  counting: Type.Union([Type.Number({ minimum: 0 }), Type.Null()]),
  /** What a side below its detection limit allows; null where both were measured. */
  limit: Type.Union([
    Type.Object({ side: Type.Union([Type.Literal('at-most'), Type.Literal('at-least')]), ratio: Type.Number() }),
    Type.Null(),
  ]),
  expected: Type.Object({ low: Type.Number(), high: Type.Number() }),
  /** From the formulas alone; null where there is none, or where they disagree. */
  exact: Type.Union([Type.Number(), Type.Null()]),
  /** within: less than two standard uncertainties outside the expected range. A limit may say above or below as well, never within. */
  agrees: Type.Union([
    Type.Literal('within'),
    Type.Literal('above'),
    Type.Literal('below'),
    Type.Literal('limit only'),
  ]),
  /** Allowed materials it speaks of (ids), best first. */
  materials: Type.Array(Type.String()),
  /** Materials (ids) that go with the best of them in its best explanation and hold some of these elements too. */
  alsoIn: Type.Array(Type.String()),
  tells: Type.String(),
  /** Of the expected value, each with how it was consulted. */
  source: Type.Array(Type.String()),
  trust: Type.String(),
});
export type ElementRatio = Static<typeof ElementRatio>;

/** Standard uncertainties outside the expected range from which a ratio is above or below it. */
const DISAGREES_FROM = 2;
/** A limit is 3.29 standard deviations (Currie, Anal. Chem. 40 (1968) 586, limit of detection at 5 %). */
const SIGMAS_IN_LIMIT = 3.29;
export interface RatioOptions {
  /** The ratios to choose from; all known ones if left out. */
  readonly known?: readonly KnownRatio[];
  /** The detector sits behind a thick window of a thickness that nothing tells: soft lines say little. */
  readonly unknownWindow?: boolean;
  /** The materials that the pigments were chosen from. */
  readonly materials?: MaterialsInUse;
}

/** What a spectrum's amounts say about the ratios of the materials it allows, those of the best material first. Deterministic. */
export function elementRatios(
  findings: readonly Finding[],
  pigments: readonly Standing[],
  { known = KNOWN_RATIOS, unknownWindow = false, materials: { byId } = materialsInUse(null) }: RatioOptions = {},
): ElementRatio[] {
  const bySymbol = new Map(findings.map((finding) => [finding.symbol, finding]));
  const rank = new Map(
    pigments.flatMap(({ id, standing }, place) => (standing === 'allowed' ? [[id, place] as const] : [])),
  );
  return known
    .map((ratio) => ({
      ratio,
      materials: ratio.materials.filter((id) => rank.has(id)).sort((a, b) => rank.get(a)! - rank.get(b)!),
    }))
    .filter(({ materials }) => materials.length > 0)
    .sort((a, b) => rank.get(a.materials[0])! - rank.get(b.materials[0])!)
    .flatMap(({ ratio, materials }) => {
      const { beside } = pigments[rank.get(materials[0])!];
      return measuredRatio(ratio, { materials, alsoIn: holding(beside, ratio, byId) }, bySymbol, unknownWindow) ?? [];
    });
}

/** Those of the materials that hold an element of the ratio. */
function holding(
  ids: readonly string[],
  { numerator, denominator }: KnownRatio,
  byId: MaterialsInUse['byId'],
): string[] {
  return ids.filter((id) => {
    const material = byId(id);
    return material !== undefined && [...numerator, ...denominator].some((symbol) => fractionIn(material, symbol) > 0);
  });
}

/** Expected range, and the one value of the formulas where they agree. Atomic ratios. */
export function expectedRatio({ numerator, denominator, formulas, low, high }: KnownRatio) {
  const exact = formulas.map((formula) => {
    const atoms = parseFormula(formula);
    const sum = (symbols: readonly string[]): number =>
      symbols.reduce((total, symbol) => total + (atoms.get(zOf(symbol)!) ?? 0), 0);
    return sum(numerator) / sum(denominator);
  });
  const [least, most] = [Math.min(...exact), Math.max(...exact)];
  return {
    expected: { low: low ?? least, high: high ?? most },
    exact: exact.length > 0 && most - least < 1e-9 * most ? least : null,
  };
}

/** 'Title; recalled', or the title alone where nothing was consulted. */
function sourceText(key: string): string {
  const source = KNOWLEDGE_SOURCES.find((known) => known.key === key);
  if (source === undefined) return key;
  return source.consulted === 'none' ? source.title : `${source.title}; ${source.consulted}`;
}

type Findings = ReadonlyMap<string, Finding>;

function measuredRatio(
  known: KnownRatio,
  among: Pick<ElementRatio, 'materials' | 'alsoIn'>,
  findings: Findings,
  unknownWindow: boolean,
): ElementRatio | null {
  const above = sideOf(known.numerator, findings);
  const below = sideOf(known.denominator, findings);
  if (above === null || below === null) return null;
  const { id, tells, source, trust } = known;
  const { expected, exact } = expectedRatio(known);
  const about = { expected, exact, ...among, tells, source: source.map(sourceText), trust };
  const named = { id, numerator: [...known.numerator], denominator: [...known.denominator] };
  if (above.seen && below.seen) {
    const value = above.moles / below.moles;
    const { counting, physics } = spreadOf(above.terms, below.terms, unknownWindow);
    const sigma = value * Math.hypot(counting, physics);
    const agrees = agreement(value, sigma, expected);
    return { ...named, value: { value, sigma }, counting: value * counting, limit: null, agrees, ...about };
  }
  const limit = limitOf(above, below);
  return limit && { ...named, value: null, counting: null, limit, agrees: limitAgreement(limit, expected), ...about };
}

function limitAgreement(
  { side, ratio }: NonNullable<ElementRatio['limit']>,
  { low, high }: ElementRatio['expected'],
): ElementRatio['agrees'] {
  if (side === 'at-most') return ratio < low ? 'below' : 'limit only';
  return ratio > high ? 'above' : 'limit only';
}

function limitOf(above: Side, below: Side): ElementRatio['limit'] {
  if (above.seen) return { side: 'at-least', ratio: above.moles / below.most };
  return below.seen ? { side: 'at-most', ratio: above.most / below.moles } : null;
}

function agreement(value: number, sigma: number, { low, high }: ElementRatio['expected']): ElementRatio['agrees'] {
  if (value - DISAGREES_FROM * sigma > high) return 'above';
  return value + DISAGREES_FROM * sigma < low ? 'below' : 'within';
}

interface Side {
  readonly seen: boolean;
  /** Moles per gram of what was analysed. */
  readonly moles: number;
  /** The most it can be. */
  readonly most: number;
  readonly terms: readonly Term[];
}

/** Amounts of a side; null where the spectrum is blind to one of its elements. An element that is not seen counts as none. */
function sideOf(symbols: readonly string[], findings: Findings): Side | null {
  const parts = symbols.map((symbol) => partOf(findings.get(symbol)));
  if (parts.includes(null)) return null;
  const known = parts.filter((part) => part !== null);
  const moles = known.reduce((sum, part) => sum + part.moles, 0);
  const terms = known.flatMap(({ finding, moles: own, most, relative }): Term[] => {
    if (own === 0) return [{ finding, weight: most / SIGMAS_IN_LIMIT / moles, counting: 1, seen: false }];
    return [{ finding, weight: own / moles, counting: relative, seen: true }];
  });
  return { seen: moles > 0, moles, most: known.reduce((sum, part) => sum + part.most, 0), terms };
}

function partOf(finding: Finding | undefined) {
  if (finding === undefined || finding.verdict === 'blind') return null;
  const { z, verdict, massFraction, counts, limit } = finding;
  const weight = atomicWeight(z);
  const amount = massFraction?.value ?? 0;
  if (verdict === 'present' && amount > 0) {
    const relative = counts.value > 0 ? counts.sigma / counts.value : 1;
    return { finding, moles: amount / weight, most: (amount * (1 + 2 * relative)) / weight, relative };
  }
  if (limit === null) return null;
  // A doubted amount may be there in full.
  const doubted = verdict === 'open' && massFraction !== null ? amount + 2 * massFraction.sigma : 0;
  return { finding, moles: 0, most: Math.max(limit.massFraction, doubted) / weight, relative: 1 };
}

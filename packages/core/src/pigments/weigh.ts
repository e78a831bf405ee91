import { atomicWeight, zOf } from '../atomic/elements.ts';
import type { ElementFinding } from '../identify/finding.ts';
import { type Counterargument, fractionIn, type Material } from './knowledge.ts';
import { type FindingMap, measuredOf, type Requirement, type RequirementState } from './requirement.ts';

/** Below fluorine the spectrum says nothing about a material: resin, medium and carbonate hold C, N and O too. */
export const LIGHTEST_TELLING_Z = 9;

/** Score factor of a required element by its state. Chosen, not measured; they only order candidates of one spectrum. */
const STATE_FACTOR: Record<RequirementState, number> = { met: 1, unsure: 0.6, hidden: 0.5, faint: 0.4, missing: 0 };
/** Factors, chosen likewise: for each counterargument; for a required element that the mounting brings; without telling elements. */
const AGAINST_FACTOR = 0.4;
const SETTING_FACTOR = 0.5;
/** Factor by the number of telling required elements that are present: two or three together say more than one. */
const CONCURRENCE = [0.4, 0.7, 0.9, 1];
const UNTELLING_FACTOR = 0.15;
/** Score left when an element falls far short of its ratio to the telling one, and when it far exceeds it (a neighbour's). */
const DEFICIT_FLOOR = 0.25;
const EXCESS_FLOOR = 0.6;
/** Score left when the material explains nothing of what is seen. */
const EXPLAINED_FLOOR = 0.1;
/** Companions count half, and up to this share of the material. */
const COMPANION_WEIGHT = 0.5;
const COMPANION_SHARE = 0.3;
/** A material that, with two standard deviations granted, carries less than this of its telling element is ruled out as its carrier. */
const LEAST_CARRIED = 0.2;

/** How a material weighs against one spectrum. */
export interface Weight {
  readonly requirements: readonly Requirement[];
  /** Share of the analysed mass the measured required elements allow together; null when none is measured. */
  readonly share: number | null;
  /** Part of the visible mass (fluorine and up, not of the mounting) the material explains, 0 to 1. */
  readonly explained: number;
  /** Part of its telling element the material explains, 0 to 1: a lesser part of a mixture may be the only carrier of it. */
  readonly carried: number;
  /** Agreement of the measured ratios with the formula, 0 to 1. */
  readonly agreement: number;
  /** The required element that allows the least of the material, with the part of the telling element it leaves carried. */
  readonly shortfall: { readonly of: Requirement; readonly to: Requirement; readonly carried: number } | null;
  readonly against: readonly (Counterargument & { readonly measured: number })[];
  /** Elements seen that need another material, strongest first. */
  readonly leftOver: readonly { readonly symbol: string; readonly massFraction: number }[];
  readonly telling: boolean;
  readonly score: number;
}

/** A telling element seen in the specimen, with its mass fraction and the weight of its verdict. */
export interface SeenAmount {
  readonly symbol: string;
  readonly amount: number;
  readonly certain: boolean;
  /** 1 if present, else its probability. */
  readonly weight: number;
}

/** The telling elements seen, except those of the mounting. */
export function seenAmounts(findings: readonly ElementFinding[]): SeenAmount[] {
  return findings
    .filter(({ symbol, origin }) => isTelling(symbol) && origin !== 'setting')
    .map((finding) => {
      const certain = finding.verdict === 'present';
      const amount = measuredOf(finding)?.value ?? 0;
      return { symbol: finding.symbol, amount, certain, weight: certain ? 1 : finding.probability };
    })
    .filter(({ amount }) => amount > 0)
    .sort((a, b) => b.amount - a.amount || (a.symbol < b.symbol ? -1 : 1));
}

export function weigh(
  material: Material,
  requirements: readonly Requirement[],
  findings: FindingMap,
  seen: readonly SeenAmount[],
): Weight {
  const measured = requirements.filter((requirement) => requirement.measured !== null);
  const share = measured.length === 0 ? null : Math.min(1, ...measured.map(shareBy));
  const telling = requirements.some(({ symbol }) => isTelling(symbol));
  const agreement = ratioAgreement(measured);
  const { explained, carried, leftOver } = explainedPart(material, share ?? 0, requirements, seen);
  const against = counterarguments(material, findings);
  const states = requirements.reduce(
    (product, { state, fromSetting }) => product * STATE_FACTOR[state] * (fromSetting ? SETTING_FACTOR : 1),
    1,
  );
  const score =
    states *
    agreement *
    (EXPLAINED_FLOOR + ((1 - EXPLAINED_FLOOR) * (explained + carried)) / 2) *
    AGAINST_FACTOR ** against.length *
    (telling ? concurrence(requirements) : UNTELLING_FACTOR) *
    (share === null ? EXPLAINED_FLOOR : 1);
  return {
    requirements,
    share,
    explained,
    carried,
    agreement,
    shortfall: grossShortfall(measured),
    against,
    leftOver,
    telling,
    score: Math.round(score * 1e4) / 1e4,
  };
}

export function isTelling(symbol: string): boolean {
  return (zOf(symbol) ?? 0) >= LIGHTEST_TELLING_Z;
}

function concurrence(requirements: readonly Requirement[]): number {
  const met = requirements.filter(({ state, symbol }) => state === 'met' && isTelling(symbol)).length;
  return CONCURRENCE[Math.min(met, CONCURRENCE.length - 1)];
}

function shareBy({ measured, fraction }: Requirement): number {
  return measured!.value / fraction;
}

/**
 * Each required element against the first, the telling one: exp(-chi2 / 2n) of the logarithmic deviations, deficits and
 * excesses apart, since a neighbour can add to an element but nothing can take it away.
 */
function ratioAgreement([telling, ...others]: readonly Requirement[]): number {
  if (others.length === 0) return 1;
  const deviations = others.map(
    (other) => Math.log(shareBy(other) / shareBy(telling)) / Math.hypot(other.doubt, telling.doubt),
  );
  const agreement = (side: readonly number[], floor: number) =>
    floor + (1 - floor) * Math.exp(-side.reduce((sum, d) => sum + d * d, 0) / (2 * others.length));
  return (
    agreement(
      deviations.filter((d) => d < 0),
      DEFICIT_FLOOR,
    ) *
    agreement(
      deviations.filter((d) => d > 0),
      EXCESS_FLOOR,
    )
  );
}

/** The first required element is the telling one: how much of it can the scarcest other one go with? */
function grossShortfall(measured: readonly Requirement[]): Weight['shortfall'] {
  const [to, ...others] = measured;
  if (others.length === 0 || !isTelling(to.symbol)) return null;
  const of = others.reduce((least, other) => (shareBy(other) < shareBy(least) ? other : least));
  const carried = shareBy(of) / shareBy(to);
  return carried * Math.exp(2 * Math.hypot(of.doubt, to.doubt)) < LEAST_CARRIED ? { of, to, carried } : null;
}

function explainedPart(
  material: Material,
  share: number,
  requirements: readonly Requirement[],
  seen: readonly SeenAmount[],
): Pick<Weight, 'explained' | 'carried' | 'leftOver'> {
  const doubt = requirements.reduce((most, requirement) => Math.max(most, requirement.doubt), 0);
  let [total, explained, carriedTelling] = [0, 0, 0];
  const leftOver: { symbol: string; massFraction: number }[] = [];
  for (const { symbol, amount, certain, weight } of seen) {
    const own = Math.min(amount, share * fractionIn(material, symbol) * Math.exp(doubt));
    const companion = material.companions.includes(symbol) ? COMPANION_WEIGHT : 0;
    const carried = own + companion * Math.min(amount - own, share * COMPANION_SHARE);
    total += weight * amount;
    explained += weight * carried;
    if (symbol === material.required[0]) carriedTelling = carried / amount;
    if (certain && amount - carried > 0.5 * amount) leftOver.push({ symbol, massFraction: amount - carried });
  }
  leftOver.sort((a, b) => b.massFraction - a.massFraction || (a.symbol < b.symbol ? -1 : 1));
  return { explained: total === 0 ? 0 : explained / total, carried: carriedTelling, leftOver };
}

function counterarguments(material: Material, findings: FindingMap): Weight['against'] {
  return material.against
    .map((argument) => ({ ...argument, measured: atomicRatio(argument.element, argument.per, findings) }))
    .filter(({ measured, above }) => measured > above);
}

/** Atoms of `element` per atom of `per` as measured; 0 unless both are present. */
function atomicRatio(element: string, per: string, findings: FindingMap): number {
  const [a, b] = [element, per].map((symbol) => {
    const finding = findings.get(symbol);
    const amount = finding?.verdict === 'present' ? (measuredOf(finding)?.value ?? 0) : 0;
    return amount / atomicWeight(zOf(symbol)!);
  });
  return b > 0 ? a / b : 0;
}

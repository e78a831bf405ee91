import type { MassFractions } from '../atomic/composition.ts';
import { symbolOf } from '../atomic/elements.ts';
import { fractions } from '../fit/mass-fractions.ts';
import type { Explanation } from '../identify/explain.ts';
import type { Claim } from '../identify/claim.ts';
import type { Finding } from '../identify/finding.ts';
import type { Column } from '../model/column.ts';

/** Two explanations of the same counts between which a measurement should decide. */
export interface Question {
  /** Element that the question is about. */
  readonly symbol: string;
  readonly z: number;
  /** Symbols of others that the other explanation lacks as well: those barred together. */
  readonly also: readonly string[];
  /** Why it is asked: the spectrum leaves it open or not quite sure; else, or with an amount, someone claims it; or bars it. */
  readonly why: 'open' | 'claimed' | 'barred';
  /** The explanation with it, and the one without. */
  readonly withIt: MassFractions;
  readonly without: MassFractions;
  /** What stands in its place in the other explanation; empty where nothing does. */
  readonly instead: readonly string[];
}

/** A `present` element told with less than this probability is worth a question too. */
const SURE = 0.97;
/** Mass fraction that a claim without an amount is planned for where the spectrum itself sets no lower limit (our choice: a minor constituent). */
const CLAIMED_FRACTION = 0.1;

/**
 * The open questions of an explanation, the elements that only just are `present` and those claimed, in the order of its findings.
 */
export function questionsOf(
  explanation: Explanation,
  findings: readonly Finding[],
  claims: readonly Claim[] = [],
): Question[] {
  const present = compositionOf(explanation);
  return findings
    .map((finding) => ({ finding, claim: claims.find(({ symbol }) => symbol === finding.symbol) }))
    .filter(({ finding, claim }) => isOpen(finding) || claim !== undefined)
    .map(({ finding, claim }) => {
      const { symbol, z } = finding;
      const amount = claim?.massFraction ?? null;
      const sides = sidesOf(explanation, finding, present);
      if (amount === null) return { symbol, z, also: [], why: isOpen(finding) ? 'open' : 'claimed', ...sides };
      return { symbol, z, also: [], why: 'claimed', ...sides, withIt: withFraction(z, amount, present) };
    });
}

/**
 * Whether it is the barred elements or what would take their place; null where the usual explanation uses none of them.
 * @param other the explanation without them
 */
export function questionWithout(usual: Explanation, other: Explanation, barred: readonly number[]): Question | null {
  const withIt = compositionOf(usual);
  const [before, after] = [membersOf(usual), membersOf(other)];
  const [z, ...also] = before.filter((member) => barred.includes(member)).sort((a, b) => withIt[b] - withIt[a]);
  if (z === undefined) return null;
  return {
    symbol: symbolOf(z),
    z,
    also: also.map(symbolOf),
    why: 'barred',
    withIt,
    without: compositionOf(other),
    instead: after.filter((member) => !before.includes(member)).map(symbolOf),
  };
}

function compositionOf({ fit }: Explanation): MassFractions {
  return fractions(fit.zs, fit.fit.coefficients, fit.at.composition);
}

const membersOf = ({ candidates, round }: Explanation): number[] => round.hypothesis.members.map((e) => candidates[e]);

function isOpen({ verdict, probability }: Finding): boolean {
  return verdict === 'open' || (verdict === 'present' && probability < SURE);
}

type Sides = Pick<Question, 'withIt' | 'without' | 'instead'>;

function sidesOf(explanation: Explanation, finding: Finding, present: MassFractions): Sides {
  const { candidates, round, leaveOuts } = explanation;
  const e = candidates.indexOf(finding.z);
  const leaveOut = leaveOuts.get(e);
  if (leaveOut) {
    return {
      withIt: present,
      without: fractions(candidates, leaveOut.instead.x, present),
      instead: leaveOut.added.map((other) => symbolOf(candidates[other])),
    };
  }
  // Not part of the explanation: the question is whether to add it.
  const withIt =
    finding.verdict === 'open'
      ? withCounts(explanation, finding, round.design.layout.templates[e].column, present)
      : withFraction(finding.z, plannedFor(finding), present);
  return { withIt, without: present, instead: [] };
}

/** With the element added at the amount that the counts would take. */
function withCounts(
  { fit }: Explanation,
  { z, counts }: Finding,
  { values: perAmount }: Column,
  present: MassFractions,
): MassFractions {
  const each = perAmount.reduce((sum, value) => sum + value, 0);
  const amounts = fit.zs.map((_, k) => fit.fit.coefficients[k]);
  const added = Float64Array.of(...amounts, each > 0 ? counts.value / each : 0);
  return fractions([...fit.zs, z], added, present);
}

/** The most of an element that could hide in this spectrum, but no more than a claim without an amount is planned for. */
const plannedFor = ({ limit }: Finding): number => Math.min(CLAIMED_FRACTION, limit?.massFraction ?? CLAIMED_FRACTION);

/** With so much of the element, the others in the proportions that they have. */
function withFraction(z: number, share: number, present: MassFractions): MassFractions {
  const others = 1 - present[z];
  if (!(others > 0)) return present;
  return present.map((fraction, other) => (other === z ? share : (fraction * (1 - share)) / others));
}

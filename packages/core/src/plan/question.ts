import type { MassFractions } from '../atomic/composition.ts';
import { symbolOf } from '../atomic/elements.ts';
import { fractions } from '../fit/spectrum-fit.ts';
import type { Explanation } from '../identify/explain.ts';
import type { Finding } from '../identify/finding.ts';

/** Two explanations of the same counts between which a measurement should decide. */
export interface Question {
  /** Element that is open, or only just `present`. */
  readonly symbol: string;
  readonly z: number;
  /** The explanation with it, and the one without. */
  readonly withIt: MassFractions;
  readonly without: MassFractions;
  /** What stands in its place in the other explanation; empty where nothing does. */
  readonly instead: readonly string[];
}

/** A `present` element told with less than this probability is worth a question too. */
const SURE = 0.97;

/** The open questions of an explanation and the elements that only just are `present`, in the order of its findings. */
export function questionsOf(explanation: Explanation, findings: readonly Finding[]): Question[] {
  const { candidates, fit, round, leaveOuts } = explanation;
  const index = new Map(candidates.map((z, e) => [z, e]));
  const present = fractions(fit.zs, fit.fit.coefficients, fit.at.composition);
  return findings
    .filter(({ verdict, probability }) => verdict === 'open' || (verdict === 'present' && probability < SURE))
    .map(({ symbol, z, counts }): Question => {
      const e = index.get(z)!;
      const leaveOut = leaveOuts.get(e);
      if (!leaveOut) {
        // Not part of the explanation: the question is whether to add it, at the amount the counts would take.
        const perAmount = round.design.templates[e].column.values.reduce((sum, value) => sum + value, 0);
        const amounts = fit.zs.map((_, k) => fit.fit.coefficients[k]);
        const added = Float64Array.of(...amounts, perAmount > 0 ? counts.value / perAmount : 0);
        return { symbol, z, withIt: fractions([...fit.zs, z], added, present), without: present, instead: [] };
      }
      return {
        symbol,
        z,
        withIt: present,
        without: fractions(candidates, leaveOut.instead.x, present),
        instead: leaveOut.added.map((other) => symbolOf(candidates[other])),
      };
    });
}

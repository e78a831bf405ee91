import { power } from '../arithmetic/power.ts';
import { contradictionsIn } from '../evidence/contradiction.ts';
import { type Judge, judgeOf } from '../evidence/observation-term.ts';
import { observationTexts, type Observations, OBSERVED_PROPERTIES } from '../evidence/observations.ts';
import type { Seen } from '../evidence/seen.ts';
import type { Finding } from '../identify/finding.ts';
import { type Match, type MatchContext, matcherOf } from '../pigments/match.ts';
import type { GrainData } from '../pigments/standing.ts';
import { seenQuestion } from '../telling/words/seen.ts';
import { namedExplanation } from '../telling/words/standing-reason.ts';

/** The materials that amounts allow, and what else was seen beside what they say without it. */
export interface MatchSeen {
  readonly match: Match;
  /** Undefined where nothing was seen. */
  readonly seen: Seen | undefined;
}

/** How sure one property can make of a material, at most: it may be the slip. Two of them miss that by its square, and so on. Chosen. */
const UNSURE = 0.1;
/** What was seen counts for so much less, again and again, until it lifts nothing higher. */
const [LESS, MOST_TIMES] = [0.75, 12];

export function matchSeen(
  findings: readonly Finding[],
  context: MatchContext,
  seen: Observations | null | undefined,
): MatchSeen {
  const matched = matcherOf(findings, context);
  const alone = matched();
  if (!seen) return { match: alone, seen: undefined };
  const match = matchWith(matched, alone, seen);
  const [best] = match.explanations;
  return {
    match,
    seen: {
      observations: observationTexts(seen).map(([property, value]) => ({ property, value })),
      withoutIt: alone.explanations.map(namedExplanation),
      scores: alone.pigments.flatMap(({ id, score, standing }) => (standing === 'allowed' ? [{ id, score }] : [])),
      questions: contradictionsIn(best === undefined ? [] : partsOf(best), seen).map((one) => ({
        property: one.property,
        value: one.value,
        text: seenQuestion(one),
      })),
    },
  };
}

function matchWith(matched: ReturnType<typeof matcherOf>, alone: Match, seen: Observations): Match {
  const judge = judgeOf(seen);
  const properties = OBSERVED_PROPERTIES.filter((property) => seen[property] !== undefined).length;
  const most = 1 - power(UNSURE, properties);
  const before = sharesOf(alone);
  let counts = 1;
  for (let time = 1; ; time++) {
    const weight = counts;
    const observed: Judge = (parts) => weight * judge(parts);
    const match = matched(observed);
    const lifted = [...sharesOf(match)].some(([id, share]) => share > most && (before.get(id) ?? 0) <= most);
    if (!lifted || time === MOST_TIMES) return lifted ? alone : match;
    counts *= LESS;
  }
}

/** Share of the weight of all explanations that each material has part in. */
function sharesOf({ explanations }: Match): Map<string, number> {
  const shares = new Map<string, number>();
  const add = (id: string, share: number): void => void shares.set(id, (shares.get(id) ?? 0) + share);
  for (const { parts, score } of explanations)
    for (const { id, others } of parts) {
      add(id, score * (1 - others.reduce((sum, { share }) => sum + share, 0)));
      for (const other of others) add(other.id, score * other.share);
    }
  return shares;
}

const partsOf = ({ parts }: GrainData) =>
  parts.map(({ id, name, massFraction }) => ({ material: { id, name }, massFraction: massFraction.value }));

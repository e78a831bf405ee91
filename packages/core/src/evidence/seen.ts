import { Type, type Static } from 'typebox';
import { GrainExplanation } from '../pigments/standing.ts';

/** What else was seen of the grain, and what the elements say without it. */
export const Seen = Type.Object({
  /** Names and values as they are given to `--seen`. */
  observations: Type.Array(Type.Object({ property: Type.String(), value: Type.String() })),
  /** Explanations of the grain by its elements alone, best first. */
  withoutIt: Type.Array(GrainExplanation),
  /** Scores of the allowed materials by the elements alone, in the order that they have then. */
  scores: Type.Array(Type.Object({ id: Type.String(), score: Type.Number({ minimum: 0, maximum: 1 }) })),
  /** What was seen that the best explanation does not show, each as a question, one or two sentences. */
  questions: Type.Array(Type.Object({ property: Type.String(), value: Type.String(), text: Type.String() })),
});
export type Seen = Static<typeof Seen>;

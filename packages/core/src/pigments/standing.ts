import { Type, type Static } from 'typebox';

/** What one spectrum says about one material of the knowledge. */
export const PigmentStanding = Type.Object({
  id: Type.String(),
  name: Type.String(),
  formula: Type.String(),
  /** pigment, lake, metal, ground, filler, drier, alteration, contaminant. */
  class: Type.String(),
  hue: Type.String(),
  standing: Type.Union([Type.Literal('allowed'), Type.Literal('ruled-out')]),
  /** 0 to 1: how well the spectrum fits this candidate; comparable between candidates of one spectrum only. */
  score: Type.Number({ minimum: 0, maximum: 1 }),
  /** Why allowed or ruled out, one sentence. */
  reason: Type.String(),
  /** Entries that the same elements allow equally (ids). */
  lookalikes: Type.Array(Type.String()),
  /** The technique that decides between them. */
  followUp: Type.String(),
  hazard: Type.String(),
  /** Years of use, BCE negative; null where no date makes sense. */
  earliestUse: Type.Union([Type.Integer(), Type.Null()]),
  latestUse: Type.Union([Type.Integer(), Type.Null()]),
});
export type PigmentStanding = Static<typeof PigmentStanding>;

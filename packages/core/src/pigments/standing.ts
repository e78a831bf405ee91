import { Type, type Static } from 'typebox';
import { Measured, type Unworded } from '../identify/finding.ts';
import type { Amount } from './evidence.ts';

/** What one spectrum says about one material of the knowledge. */
export const PigmentStanding = Type.Object({
  id: Type.String(),
  name: Type.String(),
  formula: Type.String(),
  /** pigment, lake, metal, ground, filler, drier, alteration, contaminant. */
  class: Type.String(),
  hue: Type.String(),
  /** Symbols without which it is not this material, the most telling one first. */
  required: Type.Array(Type.String()),
  standing: Type.Union([Type.Literal('allowed'), Type.Literal('ruled-out')]),
  /**
   * 0 to 1: share of the weight of all explanations (combinations of up to four groups of materials, each of them needed) that
   * need this material or another of its group. Weight is the likelihood of the measured amounts under the best mixture, times the
   * priors of priors.ts. A material that no explanation needs, but that may be a fair part of the grain, gets its own small share, and so does one that is not testable.
   */
  score: Type.Number({ minimum: 0, maximum: 1 }),
  /** Number of its group, 1 the best: materials whose amounts this spectrum cannot tell apart; null where ruled out. */
  group: Type.Union([Type.Integer({ minimum: 1 }), Type.Null()]),
  /** Mass fraction in its best explanation, with counting and physics in sigma; null where ruled out or not testable. */
  massFraction: Type.Union([Measured, Type.Null()]),
  /** The other materials of that explanation (ids). */
  beside: Type.Array(Type.String()),
  /** How much worse its best explanation is than the best of all: difference of -2 ln(likelihood) with the cost of its parts; null where none was worth a fit. */
  deltaC: Type.Union([Type.Number(), Type.Null()]),
  /** Why allowed or ruled out, one sentence. */
  reason: Type.String(),
  /** Entries that the same elements allow equally (ids). */
  lookalikes: Type.Array(Type.String()),
  /** What tells it from them, where the knowledge says so. */
  toldApartBy: Type.Array(Type.String()),
  /** What shows that it is this material. */
  followUp: Type.String(),
  hazard: Type.String(),
  /** Years of use, BCE negative; null where no date makes sense. */
  earliestUse: Type.Union([Type.Integer(), Type.Null()]),
  latestUse: Type.Union([Type.Integer(), Type.Null()]),
});
export type PigmentStanding = Static<typeof PigmentStanding>;

/** Why a material is ruled out: `worse` is the difference of -2 ln(weight) to the best explanation. Materials by name, elements by symbol. */
export type Exclusion =
  | { readonly kind: 'no-trace'; readonly material: string }
  | {
      readonly kind: 'no-room';
      readonly material: string;
      /** The element that bounds it, and whether its verdict is open. */
      readonly scarce: Amount;
      readonly open: boolean;
      /** Mass fraction of that element which its other elements ask for; null where none was measured. */
      readonly expected: number | null;
      /** The most of the material, mass fraction. */
      readonly most: number;
    }
  | { readonly kind: 'not-needed'; readonly beside: readonly string[]; readonly worse: number }
  | {
      readonly kind: 'misfit';
      readonly beside: readonly string[];
      readonly amount: Amount;
      /** What the best mixture with it would hold of that amount, mass fraction. */
      readonly held: number;
      readonly worse: number;
    };

/** What weakens an allowed material. */
export type Caveat =
  | { readonly kind: 'open' | 'blind' | 'setting'; readonly symbols: readonly string[] }
  | { readonly kind: 'not-seen'; readonly symbol: string; readonly limit: number | null }
  | { readonly kind: 'against'; readonly ratio: string; readonly value: number; readonly reason: string };

/** Why a material is allowed, and how far. */
export type Allowance =
  | { readonly kind: 'not-testable'; readonly hidden: readonly string[] }
  /** Others explain its elements; the most of it that could be there, mass fraction. */
  | { readonly kind: 'spare'; readonly most: number }
  | {
      readonly kind: 'holds';
      /** Mass fraction in its best explanation; null where nothing needs it. */
      readonly massFraction: number | null;
      readonly beside: readonly string[];
      /** Its first two elements against each other, by mass. */
      readonly ratio: { readonly symbols: string; readonly value: Measured; readonly expected: number } | null;
      readonly caveats: readonly Caveat[];
    };

export type StandingReason = Exclusion | Allowance;
export type StandingData = Unworded<PigmentStanding, StandingReason>;
/** A standing whatever its reason. */
export type Standing = Omit<PigmentStanding, 'reason'>;

/** An explanation of the whole grain: materials that together hold the measured amounts, medium and mounting apart. */
export const GrainExplanation = Type.Object({
  /** 'Vermilion with lead white', what gives the colour first; the likeliest material of a family stands for all of it. */
  name: Type.String(),
  parts: Type.Array(
    Type.Object({
      id: Type.String(),
      name: Type.String(),
      group: Type.Integer({ minimum: 1 }),
      massFraction: Measured,
      /** Others of its family that may stand in its place, likeliest first, with their shares of the explanation's weight. */
      others: Type.Array(Type.Object({ id: Type.String(), name: Type.String(), share: Type.Number() })),
    }),
  ),
  /**
   * What may lie beside the parts and be hidden by their elements, likeliest first, with its share of the explanation's weight: 'smalt,
   * perhaps with quartz'.
   */
  perhaps: Type.Array(Type.Object({ id: Type.String(), name: Type.String(), share: Type.Number() })),
  /**
   * Share of the weight of all sets of materials that tell the same grain: the same families, traces apart, with or without what may lie
   * beside them. 0 to 1.
   */
  score: Type.Number({ minimum: 0, maximum: 1 }),
  /** Squared deviations of the amounts, and how many amounts beyond the fitted fractions there were to meet. */
  chi2: Type.Number(),
  degrees: Type.Integer(),
  /** Elements of which it holds less than half, strongest first. */
  leftOver: Type.Array(Type.Object({ symbol: Type.String(), massFraction: Type.Number() })),
});
export type GrainExplanation = Static<typeof GrainExplanation>;
export type GrainData = Omit<GrainExplanation, 'name'>;

/** A set of materials with its share of the weight of all explanations. */
export interface ExplanationShare {
  readonly parts: readonly { readonly id: string; readonly massFraction: number }[];
  readonly share: number;
}

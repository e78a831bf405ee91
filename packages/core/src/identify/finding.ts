import { Type, type Static } from 'typebox';
import type { MisplacedLine } from './line-place.ts';

/** A value with one standard uncertainty, in the unit the field's name gives. */
export const Measured = Type.Object({ value: Type.Number(), sigma: Type.Number({ minimum: 0 }) });
export type Measured = Static<typeof Measured>;

/**
 * present: the counts require it and no rival explains them; open: something is there, but a rival explains it about as
 * well or the evidence is short; not-seen: no evidence, the limit is given; blind: this spectrum cannot tell.
 */
export const Verdict = Type.Union([
  Type.Literal('present'),
  Type.Literal('open'),
  Type.Literal('not-seen'),
  Type.Literal('blind'),
]);
export type Verdict = Static<typeof Verdict>;

/** A line that tells two rivals apart, with the counts expected there under each and the counts observed above the rest. */
export const SettlingLine = Type.Object({
  symbol: Type.String(),
  line: Type.String(),
  energyEv: Type.Number(),
  expectedWith: Type.Number(),
  expectedInstead: Type.Number(),
  observed: Type.Number(),
  sigma: Type.Number({ minimum: 0 }),
});
export type SettlingLine = Static<typeof SettlingLine>;

/** Another element, set of elements or artefact that could explain the same counts. */
export const Rival = Type.Object({
  kind: Type.Union([Type.Literal('element'), Type.Literal('artefact')]),
  /** Symbols of the explanation put in its place ('Mo', or 'Tl+S' joined), or the artefact's name. */
  name: Type.String(),
  /** How much worse the counts are explained with the rival instead (difference of penalised C; > 0: the element is better). */
  deltaC: Type.Number(),
  settling: Type.Array(SettlingLine),
});
export type Rival = Static<typeof Rival>;

/** A line of an element, IUPAC and Siegbahn name, with its energy in eV and its counts. */
export const FoundLine = Type.Object({
  line: Type.String(),
  siegbahn: Type.Union([Type.String(), Type.Null()]),
  energyEv: Type.Number(),
  /** Counts of this line in the fit (0 when the element is not in it). */
  counts: Type.Number(),
});
/** A line of an element, IUPAC and Siegbahn name, with its energy in eV and its counts. */
export type FoundLine = Static<typeof FoundLine>;

/** A mass fraction; sigma holds what counting and what the physics leaves open, also told apart. */
export const MassFraction = Type.Object({
  value: Type.Number(),
  sigma: Type.Number({ minimum: 0 }),
  counting: Type.Optional(Type.Number({ minimum: 0 })),
  physics: Type.Optional(Type.Number({ minimum: 0 })),
});
export type MassFraction = Static<typeof MassFraction>;

/** What a spectrum says about one element: verdict, probability, amount, limit, lines and rivals. */
export const ElementFinding = Type.Object({
  symbol: Type.String(),
  z: Type.Integer({ minimum: 1, maximum: 98 }),
  verdict: Verdict,
  /** Probability that the element is in the analysed volume or its setting, by the record's stated prior odds. */
  probability: Type.Number({ minimum: 0, maximum: 1 }),
  /** Counts of all its lines within the fitted range. */
  counts: Measured,
  /** Standardless mass fraction, normalised over what was analysed; sigma includes the physics' own doubt. */
  massFraction: Type.Union([MassFraction, Type.Null()]),
  /** Currie detection limit, as counts and as an estimated mass fraction; null when the spectrum is blind to it. */
  limit: Type.Union([Type.Object({ counts: Type.Number(), massFraction: Type.Number() }), Type.Null()]),
  /** Symbol of the present element whose lines hide it most; null where none does, and where it is present itself. */
  under: Type.Union([Type.String(), Type.Null()]),
  origin: Type.Union([Type.Literal('specimen'), Type.Literal('setting'), Type.Literal('either')]),
  /** How much worse the counts are explained without it: with nothing, and with the best rival, in its place. */
  evidence: Type.Object({ deltaC: Type.Number(), margin: Type.Number() }),
  /** Correlation of its amount with those of other elements: an overlap in figures; only those beyond 0.2. */
  correlations: Type.Array(Type.Object({ symbol: Type.String(), value: Type.Number({ minimum: -1, maximum: 1 }) })),
  lines: Type.Array(FoundLine),
  rivals: Type.Array(Rival),
  /** Why the verdict is what it is, in a sentence or two. */
  reason: Type.String(),
});
/** What a spectrum says about one element: verdict, probability, amount, limit, lines and rivals. */
export type ElementFinding = Static<typeof ElementFinding>;

/** Why a verdict is what it is. Rises are of chi-square when the element is left out. */
export type FindingReason =
  | { readonly kind: 'not-excited' }
  | { readonly kind: 'hidden' }
  | { readonly kind: 'no-counts' }
  | { readonly kind: 'gains-little' }
  | { readonly kind: 'stands-in'; readonly for: string }
  | {
      readonly kind: 'required';
      readonly rise: number;
      readonly rival: Rival | null;
      /** The detector itself may bring so few counts. */
      readonly orDetector: boolean;
    }
  | { readonly kind: 'short'; readonly rise: number }
  | { readonly kind: 'rival-fits'; readonly rival: Rival }
  | { readonly kind: 'rare'; readonly asked: number }
  | { readonly kind: 'faint'; readonly sigmas: number }
  | ({ readonly kind: 'misplaced' } & MisplacedLine)
  | { readonly kind: 'unfinished' }
  | {
      readonly kind:
        | 'behind-window'
        | 'detector-own'
        | 'holder'
        | 'no-peak'
        | 'axis-doubtful'
        | 'excitation-doubtful'
        | 'poor-fit-here';
    };

/** Something found whose reason is still data; `telling` words it for the record. */
export type Unworded<Found, Reason> = Omit<Found, 'reason'> & { readonly reason: Reason };
export type FindingData = Unworded<ElementFinding, FindingReason>;
/** A finding whatever its reason: what the floors above reckon with. */
export type Finding = Omit<ElementFinding, 'reason'> & {
  /** Relative standard uncertainty of its amount by the physics, where reference grains tell it; in no record. */
  readonly referenced?: number;
};

/** An entry of the account of every count in the spectrum; the entries add up to the measured total. */
export const LedgerEntry = Type.Object({
  part: Type.Union([
    Type.Literal('background'),
    Type.Literal('element'),
    Type.Literal('artefact'),
    Type.Literal('unexplained'),
    Type.Literal('outside-range'),
  ]),
  name: Type.String(),
  counts: Type.Number(),
});
export type LedgerEntry = Static<typeof LedgerEntry>;

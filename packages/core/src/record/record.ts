import { Type, type Static } from 'typebox';
import { ElementFinding, LedgerEntry, Measured } from '../identify/finding.ts';
import { HeldAgainst } from '../evidence/held-against.ts';
import { Seen } from '../evidence/seen.ts';
import { Peak } from '../peaks/peak.ts';
import { Brightness } from '../pigments/brightness.ts';
import { DatingArgument } from '../pigments/dating.ts';
import { Changes } from './changes.ts';
import { DateQuestion } from '../pigments/out-of-place.ts';
import { ElementRatio } from '../pigments/ratios.ts';
import { GrainExplanation, PigmentStanding } from '../pigments/standing.ts';

export const RECORD_SCHEMA_ID = 'limner-record/1';

const Origin = Type.Union([
  Type.Literal('header'),
  Type.Literal('option'),
  Type.Literal('estimated'),
  Type.Literal('default'),
]);
const Stated = Type.Object({ value: Type.Number(), origin: Origin });
const WarningSchema = Type.Object({ code: Type.String(), text: Type.String() });

const Narrowed = Type.Object({ usual: Type.Number(), known: Type.Number() });
const Belief = Type.Object({ mean: Type.Number(), sigma: Type.Number() });
const SharedKnowledge = Type.Object({
  /** Spectra that told, this one not among them. */
  spectra: Type.Integer(),
  /** Energy at which position and gain are independent, eV. */
  pivotEv: Type.Number(),
  positionEv: Narrowed,
  /** Relative. */
  gain: Narrowed,
  noiseEv: Narrowed,
  /** What reference materials changed, and which. */
  lessons: Type.Array(
    Type.Object({ quantity: Type.String(), by: Type.Array(Type.String()), before: Belief, after: Belief }),
  ),
});

/** The answer to a claim someone made, tested as the tool tests its own. */
export const ClaimAnswer = Type.Object({
  symbol: Type.String(),
  /** The amount claimed; null where none was named. */
  massFraction: Type.Union([Type.Number({ exclusiveMinimum: 0, maximum: 1 }), Type.Null()]),
  /** supported: it is there; contradicted: the counts leave no room for the amount claimed; cannot-tell: it could hide here. */
  answer: Type.Union([Type.Literal('supported'), Type.Literal('contradicted'), Type.Literal('cannot-tell')]),
  reason: Type.String(),
});
export type ClaimAnswer = Static<typeof ClaimAnswer>;

/** What the counts would need instead, were the named elements not allowed. */
export const WithoutAnswer = Type.Object({
  symbols: Type.Array(Type.String()),
  instead: Type.Array(Type.String()),
  deltaC: Type.Number(),
  reason: Type.String(),
});
export type WithoutAnswer = Static<typeof WithoutAnswer>;

/**
 * The record of one spectrum, `limner-record/1`: everything a colleague needs to check the reading years later.
 * All else (sentences, tables, page) is derived from it. The same input gives the same bytes.
 */
export const LimnerRecord = Type.Object({
  schema: Type.Literal(RECORD_SCHEMA_ID),
  source: Type.Object({ name: Type.String(), sha256: Type.String(), title: Type.String() }),
  software: Type.Object({
    name: Type.Literal('limner'),
    version: Type.String(),
    atomicData: Type.String(),
    pigmentData: Type.String(),
  }),
  /** Own entries that the materials were chosen from as well; null when there were none. */
  ownMaterials: Type.Union([
    Type.Object({
      file: Type.String(),
      sha256: Type.String(),
      entries: Type.Integer(),
      /** Ids of materials that they stand in place of. */
      replaced: Type.Array(Type.String()),
    }),
    Type.Null(),
  ]),
  header: Type.Array(Type.Object({ key: Type.String(), unit: Type.String(), value: Type.String() })),
  conditions: Type.Object({
    beamKev: Stated,
    takeOffDeg: Stated,
    liveTimeS: Type.Union([Type.Number(), Type.Null()]),
    channels: Type.Integer(),
    totalCounts: Type.Number(),
    mount: Type.Array(Type.String()),
  }),
  axis: Type.Object({
    offsetEv: Measured,
    gainEv: Measured,
    /** Correlation of offset and gain: at channel i the axis is uncertain by less than both together say. */
    correlation: Type.Number({ minimum: -1, maximum: 1 }),
    header: Type.Object({ offsetEv: Type.Number(), gainEv: Type.Number() }),
    /** FWHM at Mn K-L3 (5898.8 eV), as ISO 15632 states resolution. */
    fwhmMnEv: Measured,
    /** Fitted range, eV, lowest and highest channel centre. */
    rangeEv: Type.Tuple([Type.Number(), Type.Number()]),
    /** What other spectra of the session told of the instrument, as standard uncertainties against the usual ones; null: read on its own. */
    shared: Type.Union([SharedKnowledge, Type.Null()]),
  }),
  fit: Type.Object({
    /** Cash statistic over the fitted range, with its expectation and variance were the model true. */
    c: Type.Number(),
    expected: Type.Number(),
    variance: Type.Number(),
    /** Probability of a misfit at least this large were the model true and the counts Poisson. */
    pValue: Type.Number({ minimum: 0, maximum: 1 }),
    /** The same statistic by stretches of the spectrum; parameters are not allowed for in their expectations. */
    regions: Type.Array(
      Type.Object({
        fromEv: Type.Number(),
        toEv: Type.Number(),
        c: Type.Number(),
        expected: Type.Number(),
        variance: Type.Number(),
      }),
    ),
    channels: Type.Integer(),
    parameters: Type.Integer(),
    /** Parameters that the counts, not the priors, determine. */
    effectiveParameters: Type.Number(),
    rounds: Type.Integer(),
    /** Elements, axis and composition settled, and the likelihood is at its maximum. */
    converged: Type.Boolean(),
    /** Distance to the maximum of the likelihood, in standard deviations of the fit. */
    distance: Type.Number(),
    /** Variance of the counts over that of Poisson counts, from the smooth continuum; well below 1: re-binned channels. */
    dispersion: Type.Number(),
  }),
  elements: Type.Array(ElementFinding),
  pigments: Type.Array(PigmentStanding),
  /** What the grain as a whole may be, best first: materials that together hold the measured amounts. */
  explanations: Type.Array(GrainExplanation),
  /** Element ratios that the trade uses, measured and expected, of the allowed materials, best first. */
  ratios: Type.Array(ElementRatio),
  /** How bright the grain should look in the backscatter image, and whether it did. */
  brightness: Brightness,
  /** What the elements say about the earliest possible date, latest first: arguments, no proof. */
  dating: Type.Array(DatingArgument),
  /** Questions about what does not go with the date that the object is said to have (year, BCE negative); null when none was stated. */
  statedDate: Type.Union([Type.Object({ year: Type.Integer(), questions: Type.Array(DateQuestion) }), Type.Null()]),
  /** What else was seen of the grain; left out where nobody looked. */
  seen: Type.Optional(Seen),
  /** The grain held against reference grains; left out where there were none. */
  references: Type.Optional(HeldAgainst),
  ledger: Type.Array(LedgerEntry),
  peaks: Type.Array(Peak),
  claims: Type.Array(ClaimAnswer),
  without: Type.Union([WithoutAnswer, Type.Null()]),
  warnings: Type.Array(WarningSchema),
  cautions: Type.Array(Type.String()),
  /** What a person changed in the page against the usual reading; left out where nothing was. */
  changes: Type.Optional(Changes),
});
/** The record of one spectrum, `limner-record/1`; plain JSON. Its JSON Schema is `recordSchema`. */
export type LimnerRecord = Static<typeof LimnerRecord>;

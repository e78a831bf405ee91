// The public API of @limner/core, in the order of the house: from the ground floor up.

export { elementName, MAX_Z, symbolOf, zOf } from './atomic/elements.ts';
export { lineAt, LINE_TABLE, linesNear, linesOf, type Line, type LineTable } from './atomic/lines.ts';
export { massFractionsOf, mixture, parseFormula, type MassFractions } from './atomic/composition.ts';

export { EmsaError } from './spectrum/emsa-error.ts';
export { MAX_INPUT_BYTES } from './spectrum/limits.ts';
export { readSpectrum, type ReadOptions } from './spectrum/read.ts';
export type { DetectorHeader, EnergyAxis, HeaderEntry, Spectrum, Warning } from './spectrum/spectrum.ts';
export { writeEmsa } from './spectrum/write.ts';

export { emittedLines } from './emission/thick/characteristic.ts';
export { emittedContinuum } from './emission/thick/continuum.ts';
export type { Body, Bulk, Grain, Layer as BodyLayer, Material as BodyMaterial, Stack } from './emission/body/body.ts';
export { layerOf } from './emission/body/body.ts';
export { type BodyEmission, createBodyEmission, type EmittedByBody } from './emission/body/body-emission.ts';
export { coat, COAT_NAMES, type CoatName } from './emission/body/coat.ts';
export { electronRangeUm, grainReach, type GrainReach, ionisationRangeUm } from './emission/body/range.ts';
export { ionisedWidthUm, recordedDepthUm } from './emission/body/recorded-volume.ts';
export { DEFAULT_DETECTOR, type Detector } from './detector/detector.ts';
export { DEFAULT_PILE_UP, type PileUp } from './detector/pile-up.ts';
export { DETECTORS, type DetectorName } from './detector/presets.ts';
export { fwhmEv } from './detector/resolution.ts';
export { resolutionStatement, withResolution } from './detector/resolution-statement.ts';

export type { LineCandidate, Peak } from './peaks/peak.ts';
export {
  clash,
  CLASH_DEFAULTS,
  type Clash,
  type ClashLine,
  type ClashOptions,
  type ClashPair,
  type SettlingLine as ClashSettlingLine,
} from './peaks/clash.ts';

export type {
  ElementFinding,
  FoundLine,
  LedgerEntry,
  Measured,
  Rival,
  SettlingLine,
  Verdict,
} from './identify/finding.ts';
export { CANDIDATE_ELEMENTS } from './identify/candidates.ts';
export { MOUNT_NAMES, UnknownMountError } from './identify/mount.ts';

export { MATERIALS, materialById, type Material } from './pigments/knowledge.ts';
export {
  faultText,
  MATERIAL_COLUMNS,
  materialsIn,
  NEEDED_COLUMNS,
  type TableFault,
  type TableRow,
} from './pigments/material-table.ts';
export type { OwnMaterials } from './pigments/own-materials.ts';
export { matchGrain, matchPigments, type Match, type MatchContext } from './pigments/match.ts';
export type { Brightness, BrightnessRange, ImageAnswer, ImageNeighbour } from './pigments/brightness.ts';
export { elementRatios, type ElementRatio } from './pigments/ratios.ts';
export { compositionIn, type GrainComposition } from './kinds/composition.ts';
export { type Kind, type KindMember, type Kinds, kindsOf, type Outlier } from './kinds/kinds.ts';
export type { GrainExplanation, PigmentStanding } from './pigments/standing.ts';

export { simulate } from './simulate/simulate.ts';
export type { SimulationConditions } from './simulate/conditions.ts';
export type { Composition, Specimen } from './simulate/specimen.ts';

export { USUAL as USUAL_INSTRUMENT } from './fit/instrument-prior.ts';
export {
  FEWEST_TO_SHARE,
  shareInstrument,
  type InstrumentEstimate,
  type SharedInstrument,
  type TimedEstimate,
} from './fit/shared-instrument.ts';
export { lessonsOf, type KnownEvidence } from './fit/reference-materials.ts';
export type { InstrumentKnowledge, Lesson, RatioBelief, Taught } from './model/instrument-knowledge.ts';
export { readInstrument } from './reading/instrument.ts';
export { readKnown, type KnownReading } from './reading/known.ts';
export type { IdentifyOptions } from './reading/conditions.ts';
export { identify, readingOf, TooFewCountsError, UnknownElementError } from './reading/identify.ts';
export type { Curves, Layer, Reading } from './reading/reading.ts';
export {
  LimnerRecord as recordSchema,
  RECORD_SCHEMA_ID,
  type ClaimAnswer,
  type LimnerRecord,
  type WithoutAnswer,
} from './record/record.ts';
export {
  capital,
  counts,
  fixed,
  keV,
  listed,
  measured,
  percent,
  probabilityText,
  significant,
  trimmed,
  yearText,
} from './telling/numerals.ts';
export {
  isTold,
  type Cell,
  type Column,
  type Figure,
  type Item,
  type Length,
  type List,
  type Node,
  type Paragraph,
  type Row,
  type Section,
  type Table,
  type Tree,
} from './telling/tree.ts';
export { readingTree } from './telling/reading.ts';
export { planTree } from './telling/plan.ts';
export { clashSummary, clashTree, SEPARABLE_MEANS } from './telling/clash.ts';
export { linesTree } from './telling/lines.ts';
export { reachTree } from './telling/reach.ts';
export { contradictionText } from './telling/words/contradiction.ts';
export { type TextOptions, treeText } from './telling/terminal.ts';
export { clashText, planText, readingText } from './telling/text.ts';
export { bestFitting, findingsWith, summary } from './telling/sections/answer.ts';
export { DATING_FROM } from './telling/cutoffs.ts';
export { lineName } from './telling/names.ts';
export type { MeasurementPlan, PlannedQuestion } from './record/measurement-plan.ts';
export { planMeasurement, type PlanOptions } from './reading/plan.ts';
export { printable, TEXT_WIDTH } from './telling/layout.ts';
// For the renderers of page and report until they print the tree.
export { brightnessSentences } from './telling/sections/brightness.ts';
export { expectedText, ratioName, ratiosWorthTelling, ratioValue } from './telling/sections/ratios.ts';
export { reasonSentence } from './telling/sections/elements.ts';
export { DATA_VERSION } from './atomic/version.ts';
export { PIGMENT_DATA_VERSION } from './pigments/knowledge.ts';
export { SOFTWARE_VERSION } from './record/version.ts';

// The public API of @limner/core, in the order of the house: from the ground floor up.

export { elementName, MAX_Z, symbolOf, UnknownElementError, zOf } from './atomic/elements.ts';
export { linesNear, linesOf } from './atomic/lines.ts';
export { massFractionsOf, mixture, type MassFractions } from './atomic/composition.ts';

export { EmsaError } from './spectrum/emsa-error.ts';
export { MAX_INPUT_BYTES } from './spectrum/limits.ts';
export { readSpectrum, type ReadOptions, sha256Hex } from './spectrum/read.ts';
export type { FileWarning } from './spectrum/file-warning.ts';
export type { EnergyAxis, Spectrum } from './spectrum/spectrum.ts';
export { axisThrough, peakCentre } from './spectrum/two-peaks.ts';
export { writeEmsa } from './spectrum/write.ts';

export { emittedLines } from './emission/thick/characteristic.ts';
export type { Body, Layer as BodyLayer, Material as BodyMaterial } from './emission/body/body.ts';
export { layerOf } from './emission/body/body.ts';
export { coat, COAT_NAMES } from './emission/body/coat.ts';
export { DEFAULT_DETECTOR, type Detector } from './detector/detector.ts';
export { DEFAULT_PILE_UP, type PileUp } from './detector/pile-up.ts';
export { DETECTORS, type DetectorName } from './detector/presets.ts';
export { withResolution } from './detector/resolution-statement.ts';

export { byExpectedStrength, type ExpectedLine, expectedLines } from './peaks/expected-strength.ts';
export { clash, type ClashOptions } from './peaks/clash.ts';

export type { ElementFinding, FoundLine, Verdict } from './identify/finding.ts';
export { CANDIDATE_ELEMENTS } from './identify/candidates.ts';
export { MOUNT_NAMES, UnknownMountError } from './identify/mount.ts';

export { materialById } from './pigments/knowledge.ts';
export { faultText, materialsIn, NEEDED_COLUMNS, type TableRow } from './pigments/material-table.ts';
export type { OwnMaterials } from './pigments/own-materials.ts';
export type { ImageNeighbour } from './pigments/brightness.ts';
export { compositionIn, type GrainComposition } from './kinds/composition.ts';
export { type KindMember, type Kinds, kindsOf } from './kinds/kinds.ts';
export type { PigmentStanding } from './pigments/standing.ts';

export {
  ObservationError,
  OBSERVATION_NAMES,
  type Observations,
  observationsFrom,
  observationsIn,
} from './evidence/observations.ts';
export type { ReferenceGrain } from './evidence/reference-grain.ts';

export { withoutRecipe } from './simulate/blind.ts';
export { simulate } from './simulate/simulate.ts';
export type { SimulationConditions } from './simulate/conditions.ts';
export type { Specimen } from './simulate/specimen.ts';

export {
  FEWEST_TO_SHARE,
  shareInstrument,
  type InstrumentEstimate,
  type SharedInstrument,
} from './fit/shared-instrument.ts';
export { taughtBy } from './fit/reference-materials.ts';
export type { InstrumentKnowledge, ReferenceFinding } from './model/instrument-knowledge.ts';
export { readInstrument } from './reading/instrument.ts';
export { readReference, type ReferenceLabel } from './reading/reference.ts';
export { readKnown, type KnownReading } from './reading/known.ts';
export type { IdentifyOptions, PrepareOptions } from './reading/conditions.ts';
export { identify, readingOf } from './reading/identify.ts';
export { UnusableClaimError } from './reading/asked.ts';
export { TooFewCountsError } from './reading/prepare.ts';
export type { Alternative } from './identify/alternative.ts';
export type { Reading } from './reading/reading.ts';
export { LimnerRecord as recordSchema, type LimnerRecord } from './record/record.ts';
export { type Changes, type GivenFile, NO_CHANGES } from './record/changes.ts';
export { NewNote, type Note, standingNotes } from './record/notes.ts';
export { capital, fixed, keV, trimmed } from './telling/terms/numerals.ts';
export {
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
} from './telling/sections/tree.ts';
export { type Fold, folded, parted, WHY } from './telling/fold.ts';
export { readingTree, reportTree } from './telling/reading.ts';
export {
  alternativeText,
  channelText,
  type ChannelTold,
  CURSOR_HINT,
  figureProvenance,
  GREY_CAPTION,
  linesHereText,
  NOTHING_PLANNED,
  overlayText,
  plannedName,
  SPECTRUM_CAPTION,
  SPECTRUM_HINT,
  SPECTRUM_LABEL,
  THUMBNAIL_KEY,
  thumbnailLabel,
} from './telling/figures.ts';
export { type Pace, paceText, progressText } from './telling/session/pace.ts';
export { formulaParts } from './telling/terms/formula.ts';
export { NO_SPECTRUM } from './telling/words/kept.ts';
export { CHANGES_HINT, changesTold, mountText, notGiven } from './telling/words/changes.ts';
export { CALIBRATE_WORDS } from './telling/words/calibrate.ts';
export { NOTE_WORDS, notesInBrief, notesTitle, noteText } from './telling/words/notes.ts';
export { differencesTold } from './telling/difference.ts';
export {
  choiceText,
  copyText,
  MATRIX_KEY,
  matrixText,
  OUTSIDE,
  placeText,
  sessionSummary,
  shadeOf,
  spectraListed,
  TO_REPORT,
} from './telling/session/view.ts';
export {
  cautionsSection,
  failuresSection,
  REPORT_WORDS,
  type ReportHead,
  reportHeadTable,
  reportTitle,
} from './telling/session/report.ts';
export {
  grainName,
  grainRowId,
  grainSpectraKey,
  type GrainTold,
  layerLines,
  layersCaption,
  type LayerTold,
  sampleSection,
  SKETCH_CAPTION,
} from './telling/session/samples.ts';
export { type GrainStep, grainSteps } from './telling/session/next-steps.ts';
export { type SampleInShort, samplesInShort } from './telling/session/in-short.ts';
export { kindChoice, kindsSection, sharesText, UNLIKE } from './telling/session/kinds.ts';
export { MAP_WORDS, type MapTold, positionsSection, PROFILE_WORDS } from './telling/session/positions.ts';
export { instrumentSection, settingName } from './telling/session/instrument.ts';
export type { InstrumentState, SettingSummary } from './record/session-instrument.ts';
export { OVERVIEW_COLUMNS, overviewRow } from './telling/overview.ts';
export { clashSummary, SEPARABLE_MEANS } from './telling/clash.ts';
export { reachTree } from './telling/reach.ts';
export { fileWarningText } from './telling/words/file-warnings.ts';
export type { Warning } from './telling/words/warnings.ts';
export { contradictionText } from './telling/words/contradiction.ts';
export { treeText } from './telling/terminal.ts';
export { clashText, linesText, planText, readingText } from './telling/text.ts';
export { bestFitting, findingsWith, summary } from './telling/sections/answer.ts';
export { DATING_FROM, MOST_MAP_POINTS } from './telling/terms/cutoffs.ts';
export { lineName } from './telling/terms/names.ts';
export type { MeasurementPlan } from './record/measurement-plan.ts';
export { planMeasurement, plannedSpectra, type PlanOptions } from './reading/plan.ts';
export { answerClash } from './reading/clash.ts';
export type { ClashAnswer } from './record/clash-answer.ts';
export type { OverlapOptions } from './plan/overlap.ts';
export { printable, TEXT_WIDTH } from './telling/layout.ts';
export { DATA_VERSION } from './atomic/version.ts';
export { PIGMENT_DATA_VERSION } from './pigments/knowledge.ts';
export { SOFTWARE_VERSION } from './record/version.ts';

export { BENCH_LIMITS, type BenchPart, type BenchState, benchStateFrom, benchStateText } from './teach/bench-state.ts';
export { type BenchAnswer, benchAnswer, type BenchCurves, benchCurves, benchNeeds } from './teach/bench.ts';
export { BENCH_CAUTION, BENCH_LEFT_OUT, benchFigureLabel, type BenchWords, benchWords } from './teach/bench-words.ts';
export { type BenchVerdict, benchVerdict } from './teach/bench-verdict.ts';
export { type LessonKey, lessonKeyFrom } from './teach/lesson-key.ts';
export { lessonAnswer, type LessonQuestion, lessonQuestion, LESSONS } from './teach/lessons.ts';
export { MATERIALS } from './pigments/knowledge.ts';
export { type Exercise, exerciseSpectrum, type Level, makeExercises, recipeText } from './teach/exercise.ts';
export { decidables, type MarkedLine, markSheet, total } from './teach/marked.ts';
export { blankSheet, readSheet } from './teach/sheet.ts';
export { chartTree } from './teach/chart-tree.ts';
export { drawingPdf, drawingSvg } from './teach/drawing.ts';
export { handout } from './teach/handout.ts';
export { startHere } from './teach/start-here.ts';
export { type Paper, PAPERS, wallChart } from './teach/wall-chart.ts';

// The public API of @limner/session.

export type { Failure } from './input/failure.ts';
export { csv } from './input/csv.ts';
export { type CsvRow, csvRows } from './input/csv-rows.ts';
export { type FoundFiles, findSpectra } from './input/find.ts';
export {
  causeOf,
  InputError,
  loadSpectrum,
  type LoadOptions,
  messageOf,
  readBytes,
  spectrumFrom,
  tooLarge,
} from './input/load.ts';
export { addNote, notesIn } from './input/notes.ts';
export { loadPigments } from './input/own-pigments.ts';
export { PigmentsError } from './input/pigment-table.ts';
export { inPart, type Part } from './input/part.ts';
export { referenceMaterial } from './input/reference-material.ts';
export { readReferenceIn, type ReferenceFile, referencesIn, sheetWithReference } from './input/references.ts';
export { type Place, Sheet, SHEET, SheetError, sheetIn } from './input/sheet.ts';
export { sheetTemplate } from './input/template.ts';
export { pathWithin } from './input/within.ts';
export { merge, MergeError } from './merge.ts';
export { causeInWriting, OutputError } from './results/output-error.ts';
export { type Overview, type OverviewElement, overviewOf, type OverviewSpectrum } from './results/overview.ts';
export { type HowRead, type Progress, tag, type TagOptions, type TagOutcome } from './tag.ts';
export { isResults, KeptRecords } from './results/kept-records.ts';

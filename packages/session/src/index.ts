// The public API of @limner/session.

export { findSpectra, type Found } from './input/find.ts';
export {
  causeOf,
  InputError,
  loadSpectrum,
  type LoadOptions,
  messageOf,
  spectrumFrom,
  tooLarge,
} from './input/load.ts';
export { merge, MergeError } from './merge.ts';
export { type Overview, type OverviewElement, overviewOf, type OverviewSpectrum } from './summary/overview.ts';
export { OutputError } from './results/output.ts';
export { loadPigments, PigmentsError } from './input/own-pigments.ts';
export { inPart, type Part } from './results/part.ts';
export { Sheet, SHEET, SheetError, sheetIn, type Place } from './input/sheet.ts';
export { sheetTemplate } from './input/template.ts';
export { tag, type TagOptions, type TagOutcome } from './tag.ts';
export type { Failure } from './results/tables.ts';

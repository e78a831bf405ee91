// The public API of @limner/session.

export { findSpectra, type Found } from './find.ts';
export { causeOf, InputError, loadSpectrum, type LoadOptions, messageOf, spectrumFrom, tooLarge } from './load.ts';
export { merge, MergeError } from './merge.ts';
export { type Overview, type OverviewElement, overviewOf, type OverviewSpectrum } from './overview.ts';
export { OutputError } from './output.ts';
export { loadPigments, PigmentsError } from './own-pigments.ts';
export { inPart, type Part } from './part.ts';
export { Sheet, SHEET, SheetError, sheetIn, type Place } from './sheet.ts';
export { sheetTemplate } from './template.ts';
export { tag, type TagOptions, type TagOutcome } from './tag.ts';
export type { Failure } from './tables.ts';

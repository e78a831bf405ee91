import type { EnergyAxis, EnergyUnit } from './energy-axis.ts';

/** The values that go with each code. `line` counts from 1; `keyword` and texts that were `found` are as the file has them. */
export interface FileWarningValues {
  'latin-1': object;
  'format-missing': object;
  'spectrum-missing': { readonly line: number };
  'endofdata-missing': object;
  'second-spectrum': { readonly line: number };
  'text-after-end': { readonly line: number };
  'stray-text': { readonly line: number; readonly found: string };
  'colon-missing': { readonly line: number; readonly found: string };
  'keyword-in-data': { readonly line: number; readonly keyword: string };
  'keyword-repeated': { readonly line: number | null; readonly keyword: string };
  'keyword-unknown': { readonly keyword: string };
  'unit-unknown': { readonly keyword: string; readonly found: string };
  'decimal-comma-header': { readonly keyword: string; readonly found: string };
  'decimal-comma': { readonly line: number };
  'columns-read': { readonly axis: EnergyAxis; readonly energies: ColumnEnergies; readonly unreadColumns: number };
  'npoints-missing': object;
  'npoints-mismatch': { readonly stated: number; readonly found: number };
  'datatype-mismatch': { readonly readAs: 'Y' | 'XY' };
  'cut-off': object;
  'counts-not-integer': object;
  'yunits-rate': object;
  'peaks-removed': { readonly kinds: readonly ('escape' | 'sum')[] };
  'signal-type': { readonly found: string };
  'times-inconsistent': { readonly liveTimeS: number; readonly realTimeS: number };
  'beam-absurd': { readonly kv: number };
  'beam-high': { readonly kv: number };
  'beam-in-volts': { readonly volts: number; readonly kv: number };
  'beam-overridden': { readonly statedKv: number; readonly givenKv: number };
  'axis-option-unused': { readonly axis: EnergyAxis };
  'x-column-conflict': { readonly axis: EnergyAxis };
  'xunits-assumed': { readonly width: string; readonly unit: EnergyUnit };
  'xunits-conflict': { readonly width: string; readonly stated: EnergyUnit; readonly unit: EnergyUnit };
  'offset-missing': { readonly fromChoffsetEv: number | null };
  'choffset-mismatch': { readonly choffset: number; readonly offsetEv: number };
}

/** Where the axis of plain columns is from: given with counts alone or with channel numbers, or a column of energies. */
export type ColumnEnergies =
  | { readonly from: 'given-without-column' | 'given-for-channels' }
  | { readonly from: 'heading' | 'size'; readonly unit: EnergyUnit };

/** A keyword whose number cannot be read, e.g. 'livetime-unreadable'. */
export interface UnreadableKeyword {
  readonly code: `${string}-unreadable`;
  readonly keyword: string;
  readonly found: string;
}

/** What was read leniently from a file, or should be looked at there: a stable code with its values, worded by `telling`. */
export type FileWarning =
  | UnreadableKeyword
  | { [Code in keyof FileWarningValues]: { readonly code: Code } & FileWarningValues[Code] }[keyof FileWarningValues];

/** Collects warnings while a file is read: one per code, the first met. */
export class FileWarnings {
  readonly #byCode = new Map<string, FileWarning>();

  add(warning: FileWarning): void {
    if (!this.#byCode.has(warning.code)) this.#byCode.set(warning.code, warning);
  }

  list(): FileWarning[] {
    return [...this.#byCode.values()];
  }
}

import { type EnergyAxis, type PrepareOptions, type ReferenceGrain, readReference } from '@limner/core';
import { parse } from 'csv-parse/sync';
import { csv } from './csv.ts';
import { findSpectra } from './find.ts';
import { causeOf, InputError, spectrumFrom } from './load.ts';
import { referenceMaterial } from './reference-material.ts';
import { SHEET, Sheet, sheetIn } from './sheet.ts';
import { readBytesWithin } from './within.ts';

/** A spectrum of a known material, and what it is said to be. */
export interface ReferenceFile {
  /** Path below its folder, with '/' between names. */
  readonly name: string;
  readonly label: string;
}

/** Those of the spectra whose composition a sheet states. */
export function referencesOn(sheet: Sheet | null, spectra: readonly string[]): ReferenceFile[] {
  return spectra.flatMap((name) => {
    const label = sheet?.placeOf(name)?.known ?? '';
    return label === '' ? [] : [{ name, label }];
  });
}

/** The references of a folder, as its sample sheet states them. @throws InputError, SheetError */
export async function referencesIn(folder: string, where = folder): Promise<ReferenceFile[]> {
  const { spectra } = await findSpectra(folder).catch((error: unknown) => {
    throw new InputError(where, causeOf(error).replace('no such file', 'no such folder'), { cause: error });
  });
  const references = referencesOn(await sheetIn(folder), spectra);
  if (references.length > 0) return references;
  throw new InputError(
    where,
    `there is no reference here; 'reference add' puts a spectrum and its label into ${SHEET}`,
  );
}

/** How a reference is read: as the grains are. */
export interface ReferenceReadOptions {
  readonly axis?: EnergyAxis | undefined;
  readonly options?: PrepareOptions;
  /** Name in the records; by default that of the file. */
  readonly as?: string;
}

/** Reads a reference of a folder. @throws InputError, and as core's readReference does */
export async function readReferenceIn(
  folder: string,
  { name, label }: ReferenceFile,
  { axis, options = {}, as = name }: ReferenceReadOptions,
): Promise<ReferenceGrain> {
  const spectrum = spectrumFrom(await readBytesWithin(folder, name), { name: as, ...(axis && { axis }) }, as);
  return readReference(spectrum, { name: as, label, known: referenceMaterial(label) }, options);
}

/** Cells of a row of a new reference, by the column of the sheet; the others stay empty. */
const ROW: Readonly<Record<string, (file: string, label: string) => string>> = {
  file: (file) => file,
  sample: () => 'reference',
  known: (_, label) => label,
};

/**
 * A sample sheet with a row more, for a reference; a new one where there was none.
 * @throws Error if the label is no composition; SheetError
 */
export function sheetWithReference(text: string | null, file: string, label: string): string {
  referenceMaterial(label);
  const before = text ?? csv([['file', 'sample', 'layer', 'known', 'note']]);
  const [heading = []] = parse(before, { bom: true, trim: true, to_line: 1 });
  const cells = heading.map((name) => ROW[name.toLowerCase()]?.(file, label) ?? '');
  const whole = `${before.replace(/\s*$/, '\n')}${csv([cells])}`;
  new Sheet(whole);
  return whole;
}

import {
  CANDIDATE_ELEMENTS,
  type EnergyAxis,
  identify,
  type IdentifyOptions,
  type LimnerRecord,
  symbolOf,
} from '@limner/core';
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { findSpectra } from './find.ts';
import { causeOf, InputError, loadSpectrum, messageOf } from './load.ts';
import { type OutputFile, OutputFolder } from './output.ts';
import { REPORT_BEGINS, ReportPage } from './report-page.ts';
import {
  elementHeading,
  elementRow,
  type Failure,
  FAILURE_HEADING,
  failureRow,
  PIGMENT_HEADING,
  pigmentRows,
} from './tables.ts';

export interface TagOptions extends IdentifyOptions {
  /** Axis for files whose header has channels only. */
  readonly axis?: EnergyAxis;
  /** Told before each spectrum, and once after the last. */
  readonly onProgress?: (done: number, total: number) => void;
  /** Ends the run between two spectra; nothing is written then. */
  readonly signal?: AbortSignal;
}

export interface TagOutcome {
  /** Spectra in the records. */
  readonly read: number;
  readonly failures: readonly Failure[];
  /** Files that do not look like spectra, below the folder. */
  readonly others: readonly string[];
}

const SYMBOLS = CANDIDATE_ELEMENTS.map(symbolOf);
const ELEMENT_HEADING = elementHeading(SYMBOLS);

const OUTPUT_FILES: readonly OutputFile[] = [
  { name: 'records.ndjson', begins: '{"schema":"limner-record/' },
  { name: 'elements.csv', begins: 'file,title,sha256,' },
  { name: 'pigments.csv', begins: PIGMENT_HEADING.trimEnd() },
  { name: 'failures.csv', begins: FAILURE_HEADING.trimEnd() },
  { name: 'report.html', begins: REPORT_BEGINS.trimEnd() },
];

/**
 * Reads every spectrum in a folder and below it, in order of path, and writes records.ndjson, elements.csv, pigments.csv,
 * failures.csv and report.html into `out`, all at once at the end. The same input gives the same bytes.
 * @throws InputError if the folder cannot be read; OutputError if the results cannot be written; the signal's reason
 */
export async function tag(folder: string, out: string, options: TagOptions = {}): Promise<TagOutcome> {
  await expectFolder(folder);
  const { spectra, others } = await findSpectra(folder, out).catch((error: unknown) => {
    throw new InputError(folder, causeOf(error), { cause: error });
  });
  const output = await OutputFolder.open(out, OUTPUT_FILES);
  try {
    const failures = await writeAll(output, folder, spectra, options);
    await output.commit();
    return { read: spectra.length - failures.length, failures, others };
  } finally {
    await output.discard();
  }
}

async function expectFolder(folder: string): Promise<void> {
  const info = await stat(folder).catch((error: unknown) => {
    throw new InputError(folder, causeOf(error).replace('no such file', 'no such folder'), { cause: error });
  });
  if (!info.isDirectory()) throw new InputError(folder, "this is a file, not a folder; 'limner identify' reads files");
}

async function writeAll(
  output: OutputFolder,
  folder: string,
  names: readonly string[],
  options: TagOptions,
): Promise<Failure[]> {
  const failures: Failure[] = [];
  const report = new ReportPage();
  await output.append('elements.csv', ELEMENT_HEADING);
  await output.append('pigments.csv', PIGMENT_HEADING);
  await output.append('failures.csv', FAILURE_HEADING);
  for (const [done, name] of names.entries()) {
    options.signal?.throwIfAborted();
    options.onProgress?.(done, names.length);
    const result = await recordOf(folder, name, options);
    if ('reason' in result) {
      failures.push(result);
      await output.append('failures.csv', failureRow(result));
    } else {
      await output.append('records.ndjson', `${JSON.stringify(result)}\n`);
      await output.append('elements.csv', elementRow(result, SYMBOLS));
      await output.append('pigments.csv', pigmentRows(result));
      report.add(result);
    }
  }
  options.onProgress?.(names.length, names.length);
  await output.append('report.html', report.text(failures));
  return failures;
}

async function recordOf(folder: string, name: string, options: TagOptions): Promise<LimnerRecord | Failure> {
  try {
    const { axis } = options;
    return identify(await loadSpectrum(join(folder, name), { name, ...(axis && { axis }) }), options);
  } catch (error) {
    return { file: name, reason: error instanceof InputError ? error.reason : messageOf(error) };
  }
}

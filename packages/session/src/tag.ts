import type { EnergyAxis, IdentifyOptions, InstrumentKnowledge } from '@limner/core';
import { stat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { circumstancesOf } from './results/circumstances.ts';
import { findSpectra } from './input/find.ts';
import { causeOf, InputError } from './input/load.ts';
import { cannotWrite } from './results/output.ts';
import type { Part } from './results/part.ts';
import { calibrated } from './instrument/calibrate.ts';
import { Readers } from './reading/readers.ts';
import type { SettingSummary } from './instrument/calibration.ts';
import type { Task } from './reading/read-one.ts';
import { Results, storeIn } from './results/results.ts';
import { sheetIn } from './input/sheet.ts';
import type { Failure } from './results/tables.ts';

/** What the session tells of its instrument, and what a single grain was seen beside, are not for the caller to give. */
export interface TagOptions extends Omit<IdentifyOptions, 'instrument' | 'image'> {
  /** Axis for files whose header has channels only. */
  readonly axis?: EnergyAxis;
  /** Spectra read at the same time; as many as the machine has cores by default. */
  readonly workers?: number;
  /** Reads this share of the spectra only. */
  readonly part?: Part;
  /** Day to put into the results, YYYY-MM-DD; the day when the session was begun by default. */
  readonly date?: string;
  /** Reads every spectrum on its own, without what the session tells of the instrument. */
  readonly alone?: boolean;
  /** Told before the first spectrum and after each. */
  readonly onProgress?: (done: number, total: number) => void;
  /** Ends the run between two spectra; what is finished is kept for the next call. */
  readonly signal?: AbortSignal;
}

export interface TagOutcome {
  /** Spectra in the records. */
  readonly read: number;
  readonly failures: readonly Failure[];
  /** Spectra that other parts read. */
  readonly elsewhere: number;
  /** Files that do not look like spectra, below the folder. */
  readonly others: readonly string[];
  /** Rows of the samples' sheet that fit no spectrum, each told in a line. */
  readonly unused: readonly string[];
  /** Where spectra of known materials contradict the samples' sheet, each told in a line. */
  readonly contradicted: readonly string[];
  /** What the session knows of its instrument for a spectrum; null where it was read on its own. */
  readonly instrumentFor: (name: string) => InstrumentKnowledge | null;
}

/**
 * Reads every spectrum in a folder and below it and writes records.ndjson, elements.csv, pigments.csv, failures.csv, report.html and
 * manifest.json into `out`, all at once at the end. The same input gives the same bytes, however many workers read it.
 * Each finished spectrum is kept in a hidden folder there at once, so that a call after an interrupted one goes on from there.
 * @throws InputError if the folder cannot be read; SheetError; OutputError if the results cannot be written; the signal's reason
 */
export async function tag(folder: string, out: string, options: TagOptions = {}): Promise<TagOutcome> {
  const { axis, workers, part, date, alone = false, onProgress, signal, ...identifyOptions } = options;
  await expectFolder(folder);
  const { spectra, others } = await findSpectra(folder, out).catch((error: unknown) => {
    throw new InputError(folder, causeOf(error), { cause: error });
  });
  const circumstances = circumstancesOf({ ...identifyOptions, ...(alone && { alone }) }, axis);
  const sheet = await sheetIn(folder);
  const results = await Results.open(out, { circumstances, part: part ?? null, sheet, date });
  const shared = {
    folder,
    store: storeIn(out),
    circumstances: JSON.stringify(circumstances),
    options: identifyOptions,
    axis: axis ?? null,
  };
  const readers = new Readers(workers ?? availableParallelism());
  try {
    let done = 0;
    let total = spectra.length;
    onProgress?.(done, total);
    signal?.throwIfAborted();
    const calibration = alone
      ? null
      : await calibrated(readers, spectra, { ...shared, sheet, out }, (asked) => {
          total = spectra.length + asked;
          onProgress?.(done++, total);
          signal?.throwIfAborted();
        });
    results.instrument = calibration?.settings ?? null;
    const jobOf = (name: string): Task => ({
      ...shared,
      kind: 'read',
      name,
      part: part ?? null,
      instrument: calibration?.knowledgeFor(name) ?? null,
    });
    for await (const outcome of readers.all(spectra, jobOf)) {
      if (outcome.kind === 'not-kept') throw cannotWrite(out, Object.assign(new Error(outcome.message), outcome));
      await results.add(outcome);
      onProgress?.(++done, total);
      signal?.throwIfAborted();
    }
    await results.finish();
    const { read, failures } = results;
    return {
      read,
      failures,
      elsewhere: spectra.length - read - failures.length,
      others,
      unused: sheet?.unused(spectra) ?? [],
      contradicted: calibration?.settings.flatMap(({ known }) => contradictedBy(known)) ?? [],
      instrumentFor: (name) => calibration?.knowledgeFor(name) ?? null,
    };
  } finally {
    await readers.end();
    await results.discard();
  }
}

const contradictedBy = (known: SettingSummary['known']): string[] =>
  known.flatMap(({ file, contradictions }) => contradictions.map((text) => `${file}: ${text}`));

async function expectFolder(folder: string): Promise<void> {
  const info = await stat(folder).catch((error: unknown) => {
    throw new InputError(folder, causeOf(error).replace('no such file', 'no such folder'), { cause: error });
  });
  if (!info.isDirectory()) throw new InputError(folder, "this is a file, not a folder; 'limner identify' reads files");
}

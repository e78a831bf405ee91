import type { EnergyAxis, IdentifyOptions } from '@limner/core';
import { stat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { circumstancesOf } from './circumstances.ts';
import { findSpectra } from './find.ts';
import { causeOf, InputError } from './load.ts';
import { cannotWrite } from './output.ts';
import type { Part } from './part.ts';
import { readAll } from './readers.ts';
import type { Task } from './read-one.ts';
import { Results, storeIn } from './results.ts';
import { sheetIn } from './sheet.ts';
import type { Failure } from './tables.ts';

export interface TagOptions extends IdentifyOptions {
  /** Axis for files whose header has channels only. */
  readonly axis?: EnergyAxis;
  /** Spectra read at the same time; as many as the machine has cores by default. */
  readonly workers?: number;
  /** Reads this share of the spectra only. */
  readonly part?: Part;
  /** Day to put into the results, YYYY-MM-DD; the day when the session was begun by default. */
  readonly date?: string;
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
}

/**
 * Reads every spectrum in a folder and below it and writes records.ndjson, elements.csv, pigments.csv, failures.csv, report.html and
 * manifest.json into `out`, all at once at the end. The same input gives the same bytes, however many workers read it.
 * Each finished spectrum is kept in a hidden folder there at once, so that a call after an interrupted one goes on from there.
 * @throws InputError if the folder cannot be read; SheetError; OutputError if the results cannot be written; the signal's reason
 */
export async function tag(folder: string, out: string, options: TagOptions = {}): Promise<TagOutcome> {
  const { axis, workers, part, date, onProgress, signal, ...identifyOptions } = options;
  await expectFolder(folder);
  const { spectra, others } = await findSpectra(folder, out).catch((error: unknown) => {
    throw new InputError(folder, causeOf(error), { cause: error });
  });
  const circumstances = circumstancesOf(identifyOptions, axis);
  const sheet = await sheetIn(folder);
  const results = await Results.open(out, { circumstances, part: part ?? null, sheet, date });
  const shared: Omit<Task, 'name'> = {
    folder,
    store: storeIn(out),
    circumstances: JSON.stringify(circumstances),
    options: identifyOptions,
    axis: axis ?? null,
    part: part ?? null,
  };
  try {
    let done = 0;
    onProgress?.(done, spectra.length);
    signal?.throwIfAborted();
    const tasks = spectra.map((name) => ({ ...shared, name }));
    for await (const outcome of readAll(tasks, workers ?? availableParallelism())) {
      if (outcome.kind === 'not-kept') throw cannotWrite(out, Object.assign(new Error(outcome.message), outcome));
      await results.add(outcome);
      onProgress?.(++done, spectra.length);
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
    };
  } finally {
    await results.discard();
  }
}

async function expectFolder(folder: string): Promise<void> {
  const info = await stat(folder).catch((error: unknown) => {
    throw new InputError(folder, causeOf(error).replace('no such file', 'no such folder'), { cause: error });
  });
  if (!info.isDirectory()) throw new InputError(folder, "this is a file, not a folder; 'limner identify' reads files");
}

import type { EnergyAxis, IdentifyOptions, InstrumentKnowledge, Note, Pace, SettingSummary } from '@limner/core';
import { stat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { basename } from 'node:path';
import { byCodeUnits } from './input/code-units.ts';
import type { Failure } from './input/failure.ts';
import { findSpectra } from './input/find.ts';
import { causeOf, InputError } from './input/load.ts';
import { joinedNotes, keepNotes, notesIn } from './input/notes.ts';
import type { Part } from './input/part.ts';
import { type ReferenceFile, referencesIn, referencesOn } from './input/references.ts';
import { sheetIn } from './input/sheet.ts';
import { calibrated } from './reading/calibrate.ts';
import { expectKept } from './reading/not-kept.ts';
import type { ReadJob } from './reading/read-one.ts';
import type { ReferenceJob } from './reading/reference-one.ts';
import { readReferences } from './reading/references.ts';
import { buildOf, Workers } from './reading/workers.ts';
import { circumstancesOf } from './results/circumstances.ts';
import { storeIn } from './results/hidden.ts';
import { Results } from './results/results.ts';

/** What the session and its sheet tell, and what a single grain was seen beside, are not for the caller to give. */
export interface TagOptions extends Omit<IdentifyOptions, 'instrument' | 'image' | 'references' | 'seen'> {
  /** Folder of reference grains, beside those that the sample sheet names. */
  readonly referenceFolder?: string;
  /** Axis for files whose header has channels only. */
  readonly axis?: EnergyAxis;
  /** Spectra read at the same time; by default as many as the machine has cores. */
  readonly workers?: number;
  /** Reads this share of the spectra only. */
  readonly part?: Part;
  /** Rows of pigments.csv for the materials that a spectrum rules out, too. */
  readonly ruledOut?: boolean;
  /** Day to put into the results, YYYY-MM-DD; by default the day on which the session was begun. */
  readonly date?: string;
  /** Reads every spectrum on its own, without what the session says about the instrument. */
  readonly alone?: boolean;
  /** Leaves this thread free: few files, and those of a single worker, go to another one too. */
  readonly aside?: boolean;
  /** Called before the first spectrum and after each. */
  readonly onProgress?: (progress: Progress) => void;
  /** Ends the run between two spectra; what is finished is kept for the next call. */
  readonly signal?: AbortSignal;
}

/** How far a session is read: steps finished, of how many, and those of them that were worked out now, not kept from an earlier run. */
export type Progress = Omit<Pace, 'seconds'>;

export interface TagOutcome {
  /** Spectra in the records. */
  readonly read: number;
  readonly failures: readonly Failure[];
  /** Spectra that other parts read. */
  readonly elsewhere: number;
  /** Files that do not look like spectra, below the folder. */
  readonly others: readonly string[];
  /** Rows of the sample sheet that match no spectrum, one line each. */
  readonly unused: readonly string[];
  /** Where spectra of reference materials contradict the sample sheet, one line each. */
  readonly contradicted: readonly string[];
  /** Files with the same bytes as another, which is counted. */
  readonly copies: readonly { readonly file: string; readonly of: string }[];
  /** How a spectrum of the session was read, for reading it again. */
  readonly howRead: (name: string) => HowRead;
}

/** How one spectrum of a session is read: as it was stated, with what the session and its sheet know of it. */
export interface HowRead {
  readonly options: IdentifyOptions;
  readonly axis: EnergyAxis | null;
}

/**
 * Reads every spectrum in a folder and below it and writes records.ndjson, elements.csv, pigments.csv, failures.csv, report.html and
 * manifest.json into `out`, all at once at the end. The same input gives the same bytes, however many workers read it.
 * Each finished spectrum is at once stored in a hidden folder there, so that a call after an interrupted one goes on from there. A new file of a known setting
 * changes what is known of the instrument: spectra read before are read again only where that moved by more than half of its standard uncertainty.
 * @throws InputError if the folder cannot be read; SheetError; OutputError if the results cannot be written; the signal's reason
 */
export async function tag(folder: string, out: string, options: TagOptions = {}): Promise<TagOutcome> {
  const {
    axis,
    workers: count,
    aside = false,
    part,
    date,
    alone = false,
    ruledOut = false,
    onProgress,
    signal,
    referenceFolder: kept,
    ...identifyOptions
  } = options;
  await expectFolder(folder);
  const { spectra, others, unread } = await findSpectra(folder, out).catch((error: unknown) => {
    throw new InputError(folder, causeOf(error), { cause: error });
  });
  const faults = new Map(unread.map(({ file, reason }) => [file, reason]));
  const names = [...spectra, ...faults.keys()].sort(byCodeUnits);
  const circumstances = circumstancesOf({ ...identifyOptions, ...(alone && { alone }) }, axis, buildOf());
  const sheet = await sheetIn(folder);
  const notes = joinedNotes(await notesIn(folder), await notesIn(out));
  const results = await Results.open(out, { circumstances, part: part ?? null, sheet, date, notes });
  const shared = {
    folder,
    store: storeIn(out),
    circumstances: JSON.stringify(circumstances),
  };
  const measured = (name: string): Measured => {
    const stated = sheet?.placeOf(name)?.stated ?? null;
    const { axis: itsAxis, ...said } = stated ?? {};
    return { options: { ...identifyOptions, ...said }, axis: itsAxis ?? axis ?? null, stated };
  };
  const workers = new Workers(count ?? availableParallelism(), aside);
  try {
    let progress: Progress = { done: 0, total: names.length, worked: 0 };
    const tell = (next: Progress): void => {
      progress = next;
      onProgress?.(progress);
    };
    const step = (worked: boolean): void => {
      tell({ ...progress, done: progress.done + 1, worked: progress.worked + Number(worked) });
      signal?.throwIfAborted();
    };
    tell(progress);
    signal?.throwIfAborted();
    const calibration = alone
      ? null
      : await calibrated(
          workers,
          spectra,
          { ...shared, measured, sheet, out },
          (asked) => tell({ ...progress, total: names.length + asked }),
          step,
        );
    results.instrument = calibration?.settings ?? null;
    const knowledgeFor = (name: string): InstrumentKnowledge | null => calibration?.knowledgeFor(name) ?? null;
    const references = await readReferences(
      workers,
      [
        ...referencesOn(sheet, spectra).map((one) => ({
          ...referenceJob({ ...shared, ...measured(one.name) }, one),
          instrument: knowledgeFor(one.name),
        })),
        ...(kept === undefined ? [] : await keptJobs({ ...shared, ...measured('') }, kept)),
      ],
      out,
    );
    const known = (name: string): Pick<ReadJob, 'instrument' | 'references' | 'seen'> => ({
      instrument: knowledgeFor(name),
      references: references.grains.filter((one) => one.name !== name),
      seen: sheet?.placeOf(name)?.seen ?? null,
    });
    const jobOf = (name: string): ReadJob => {
      const place = sheet?.placeOf(name) ?? null;
      return {
        ...shared,
        ...measured(name),
        ...known(name),
        kind: 'read',
        name,
        fault: faults.get(name) ?? null,
        part: part ?? null,
        told: { place: place && { sample: place.sample, layer: place.layer, particle: place.particle }, ruledOut },
      };
    };
    /** What was known of the instrument as each spectrum was read: where that has hardly changed, an earlier reading stands. */
    const readWith = new Map<string, InstrumentKnowledge | null>();
    for await (const outcome of workers.all(names, jobOf)) {
      const added = expectKept(out, outcome);
      await results.add(added);
      readWith.set(added.name, added.instrument);
      step(!added.kept);
    }
    await results.finish();
    await carry(notes, out);
    const { read, failures, copies } = results;
    return {
      read,
      failures,
      elsewhere: names.length - read - failures.length,
      others,
      unused: sheet?.unused(names) ?? [],
      contradicted: [
        ...(calibration?.settings.flatMap(({ known }) => contradictedBy(known)) ?? []),
        ...references.unread.map(({ file, reason }) => `${file}: ${reason}`),
      ],
      copies,
      howRead: (name) => {
        const { options: said, axis: itsAxis } = measured(name);
        const instrument = readWith.get(name) ?? null;
        return { options: { ...said, ...known(name), instrument }, axis: itsAxis };
      },
    };
  } finally {
    await workers.end();
    await results.discard();
  }
}

/** What was stated of one spectrum, for all or in the sheet. */
type Measured = Pick<ReadJob, 'options' | 'axis' | 'stated'>;
type Shared = Pick<ReadJob, 'folder' | 'store' | 'circumstances'> & Measured;

/** Notes made beside the spectra go with the results, which show them where the spectra are not at hand. */
const carry = async (notes: readonly Note[], out: string): Promise<void> =>
  notes.length > 0 ? keepNotes(out, notes) : undefined;

const referenceJob = (shared: Shared, one: ReferenceFile): Omit<ReferenceJob, 'instrument'> => ({
  ...shared,
  ...one,
  kind: 'reference',
  as: one.name,
});

/** References of a folder apart: the session knows nothing of their instrument but that it is said to be the same. */
async function keptJobs(shared: Shared, folder: string): Promise<ReferenceJob[]> {
  const references = await referencesIn(folder);
  return references.map((one) => ({
    ...referenceJob({ ...shared, folder }, one),
    as: `${basename(folder)}/${one.name}`,
    instrument: null,
  }));
}

const contradictedBy = (known: SettingSummary['known']): string[] =>
  known.flatMap(({ file, contradictions }) => contradictions.map((text) => `${file}: ${text}`));

async function expectFolder(folder: string): Promise<void> {
  const info = await stat(folder).catch((error: unknown) => {
    throw new InputError(folder, causeOf(error).replace('no such file', 'no such folder'), { cause: error });
  });
  if (!info.isDirectory()) throw new InputError(folder, "this is a file, not a folder; 'identify' reads files");
}

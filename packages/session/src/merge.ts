import type { LimnerRecord } from '@limner/core';
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Failure } from './input/failure.ts';
import { joinedNotes, keepNotes, notesIn } from './input/notes.ts';
import { Sheet } from './input/sheet.ts';
import { CURVES, curvesIn } from './results/curves.ts';
import { derive, type HowTold } from './results/derive.ts';
import { type Input, type Manifest, manifestIn } from './results/manifest.ts';
import { Results } from './results/results.ts';

/** Parts that do not make up one session; the message says what does not match and what to do. */
export class MergeError extends Error {
  override readonly name = 'MergeError';
}

interface Opened {
  readonly folder: string;
  readonly manifest: Manifest;
}

/**
 * Joins the results of all parts of a session into what one run would have written, byte for byte.
 * @throws MergeError if a part is missing, twice there, damaged, or differs in version, options, sheet or spectra; OutputError
 */
export async function merge(
  folders: readonly string[],
  out: string,
  { date, ruledOut = false }: { readonly date?: string; readonly ruledOut?: boolean } = {},
): Promise<{ read: number; failures: readonly Failure[] }> {
  const parts = await Promise.all(folders.map(opened));
  parts.sort((a, b) => partOf(a).k - partOf(b).k);
  expectOneSession(parts);
  for (const part of parts) await expectWhole(part);
  const { software, options, sheet, instrument } = parts.at(0)!.manifest;
  const provenance = {
    circumstances: { software, options },
    part: null,
    sheet: sheet === null ? null : new Sheet(sheet),
  };
  const notes = joinedNotes(...(await Promise.all([...folders, out].map(notesIn))));
  const results = await Results.open(out, { ...provenance, date, notes });
  results.instrument = instrument;
  try {
    const lines = parts.map(({ folder }) => ({
      records: linesOf(join(folder, 'records.ndjson')),
      curves: linesOf(join(folder, CURVES)),
    }));
    for (const [i] of parts.at(0)!.manifest.inputs.entries()) {
      const k = parts.findIndex(({ manifest }) => manifest.inputs[i]?.outcome !== 'elsewhere');
      const input = parts.at(k)!.manifest.inputs.at(i)!;
      const place = provenance.sheet?.placeOf(input.name) ?? null;
      await addInput(results, input, lines.at(k)!, { place, ruledOut });
    }
    await results.finish();
    if (notes.length > 0) await keepNotes(out, notes);
    return { read: results.read, failures: results.failures };
  } finally {
    await results.discard();
  }
}

interface PartLines {
  readonly records: AsyncIterator<string>;
  readonly curves: AsyncIterator<string>;
}

async function addInput(results: Results, input: Input, lines: PartLines, told: HowTold): Promise<void> {
  const { name, sha256, reason } = input;
  if (input.outcome === 'failed') return results.add({ kind: 'failed', name, sha256, reason: reason ?? '' });
  const [record, drawn] = [await next(lines.records), await next(lines.curves)];
  const read = record === null ? null : (JSON.parse(record) as LimnerRecord);
  const curves = drawn === null ? null : curvesIn(drawn);
  if (read?.source.name !== name || curves?.file !== name)
    throw new MergeError(`${name}: its record is not where the manifest says`);
  return results.add({ kind: 'read', name, sha256: sha256 ?? '', derived: derive(read, curves.sketch, told) });
}

async function next(lines: AsyncIterator<string>): Promise<string | null> {
  const line = (await lines.next()) as IteratorResult<string, undefined>;
  return line.done ? null : line.value;
}

async function opened(folder: string): Promise<Opened> {
  const manifest = await manifestIn(folder).catch(() => null);
  if (manifest?.schema !== 'limner-session/1')
    throw new MergeError(`${folder}: no finished part is here; finish it with 'tag --part'`);
  return { folder, manifest };
}

function partOf({ folder, manifest }: Opened): { k: number; of: number } {
  if (manifest.part === null) throw new MergeError(`${folder}: this is a whole session, not a part of one`);
  return manifest.part;
}

function expectOneSession(parts: readonly Opened[]): void {
  const first = parts.at(0)!;
  const { of } = partOf(first);
  const differs = (what: string, of: (manifest: Manifest) => unknown): void => {
    const other = parts.find(({ manifest }) => JSON.stringify(of(manifest)) !== JSON.stringify(of(first.manifest)));
    if (other) throw new MergeError(`${other.folder}: ${what} differ from those of ${first.folder}; read it again`);
  };
  differs('the engines (another version of Node)', ({ software }) => software.engine);
  differs('the versions', ({ software }) => software);
  differs('the options', ({ options }) => options);
  differs('the numbers of parts', ({ part }) => part?.of);
  differs('the spectra', ({ session }) => session);
  differs('the sample sheets', ({ sheet }) => sheet);
  differs('the calibrations', ({ instrument }) => instrument);
  const twice = parts.find((part, i) => i > 0 && partOf(part).k === partOf(parts.at(i - 1)!).k);
  if (twice) throw new MergeError(`${twice.folder}: part ${partOf(twice).k}/${of} is given twice`);
  const there = new Set(parts.map((part) => partOf(part).k));
  const missing = Array.from({ length: of }, (_, i) => i + 1).filter((k) => !there.has(k));
  if (missing.length > 0)
    throw new MergeError(`parts are missing: ${missing.map((k) => `${k}/${of}`).join(', ')}; give these as well`);
}

async function expectWhole({ folder, manifest }: Opened): Promise<void> {
  for (const { name, sha256, bytes } of manifest.outputs) {
    const path = join(folder, name);
    const info = await stat(path).catch(() => null);
    const hash = createHash('sha256');
    if (info?.size === bytes)
      for await (const chunk of createReadStream(path) as AsyncIterable<Uint8Array>) hash.update(chunk);
    if (info?.size !== bytes || hash.digest('hex') !== sha256)
      throw new MergeError(`${path}: it has changed since this part wrote it; run the part again`);
  }
}

function linesOf(path: string): AsyncIterator<string> {
  return createInterface({ input: createReadStream(path), crlfDelay: Infinity })[Symbol.asyncIterator]();
}

import type { LimnerRecord } from '@limner/core';
import { createReadStream } from 'node:fs';
import { open, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { manifestIn, MANIFEST, MANIFEST_BEGINS } from './manifest.ts';

/** Whether a folder holds the results of a session. */
export async function isResults(folder: string): Promise<boolean> {
  const text = await readFile(join(folder, MANIFEST), 'utf8').catch(() => '');
  return text.startsWith(MANIFEST_BEGINS);
}

const RECORDS = 'records.ndjson';
const NEWLINE = 10;

/** The records of a results folder, each read from the file when asked for. */
export class KeptRecords {
  readonly #path: string;
  /** First byte of each record, and the end of the last. */
  readonly #starts: readonly number[];
  readonly #places: ReadonlyMap<string, number>;

  private constructor(path: string, starts: readonly number[], names: readonly string[]) {
    this.#path = path;
    this.#starts = starts;
    this.#places = new Map(names.map((name, i) => [name, i]));
  }

  /** @throws when the folder holds no results */
  static async open(folder: string): Promise<KeptRecords> {
    const { inputs } = await manifestIn(folder);
    const path = join(folder, RECORDS);
    const names = inputs.filter(({ outcome }) => outcome === 'read').map(({ name }) => name);
    return new KeptRecords(path, await startsIn(path), names);
  }

  /** Names of the spectra, in the order of the records. */
  get names(): readonly string[] {
    return [...this.#places.keys()];
  }

  /** Null where there is no spectrum of that name. */
  async read(name: string): Promise<LimnerRecord | null> {
    const place = this.#places.get(name);
    const from = place === undefined ? undefined : this.#starts[place];
    const to = place === undefined ? undefined : this.#starts[place + 1];
    if (from === undefined || to === undefined) return null;
    const file = await open(this.#path);
    try {
      const { buffer } = await file.read(Buffer.alloc(to - from), 0, to - from, from);
      return JSON.parse(buffer.toString('utf8')) as LimnerRecord;
    } finally {
      await file.close();
    }
  }
}

/** Where the lines of a file begin, and where the last one ends. */
async function startsIn(path: string): Promise<number[]> {
  const starts = [0];
  let at = 0;
  for await (const chunk of createReadStream(path) as AsyncIterable<Buffer>) {
    for (let i = chunk.indexOf(NEWLINE); i >= 0; i = chunk.indexOf(NEWLINE, i + 1)) starts.push(at + i + 1);
    at += chunk.length;
  }
  return starts;
}

import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { writeWhole } from '../input/whole-file.ts';
import { makeFolder } from '../results/make-folder.ts';

/** Speed before size: level 1 takes 1.5 ms to turn a record of 200 kB into 40 kB. */
const GZIP = { level: 1 };

/**
 * Finished results by key, one compressed file each. A result appears whole; the format's
 * checksum (CRC-32, RFC 1952) reveals a damaged one, which counts as missing.
 */
export class ResultStore {
  readonly #folder: string;

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** The result kept under a key; undefined where there is none or a damaged one. */
  async get(key: string): Promise<string | undefined> {
    const packed = await readFile(this.#path(key)).catch(() => undefined);
    if (packed === undefined) return undefined;
    try {
      return gunzipSync(packed).toString('utf8');
    } catch {
      return undefined;
    }
  }

  /** Keeps a result. */
  async put(key: string, text: string): Promise<void> {
    const path = this.#path(key);
    await makeFolder(dirname(path));
    await writeWhole(path, gzipSync(text, GZIP));
  }

  #path(key: string): string {
    return join(this.#folder, key.slice(0, 2), `${key}.gz`);
  }
}

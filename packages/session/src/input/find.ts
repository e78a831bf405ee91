import type { Dirent } from 'node:fs';
import { open, readdir, realpath, stat } from 'node:fs/promises';
import { dirname, extname, join, resolve } from 'node:path';
import { byCodeUnits } from './code-units.ts';
import type { Failure } from './failure.ts';
import { causeOf, InputError } from './load.ts';
import { isWithin, pathWithin } from './within.ts';

/** Files with these extensions count as spectra by name: if one cannot be read, that is a failure. */
const SPECTRUM_EXTENSIONS = new Set(['.msa', '.emsa', '.psmsa']);
/** Files with these extensions are spectra when they hold two columns of numbers. */
const TABLE_EXTENSIONS = new Set(['.csv', '.tsv', '.txt', '.dat', '.xy']);
/** Bytes at the start of a file that are examined. */
const HEAD_BYTES = 8192;
/** Keywords of the format (ISO 22029) that head a file in practice. */
const KEYWORD_LINE = /^\s*#\s*(FORMAT|VERSION|NPOINTS|XPERCHAN|SPECTRUM|DATATYPE)\b/im;
const LEADS_BACK = 'it is a link back to a folder that contains it, so it is not followed; remove it';
const NUMBER = String.raw`[-+]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][-+]?\d+)?`;
const TWO_NUMBERS = new RegExp(`^\\s*"?${NUMBER}"?\\s*[\\s,;]\\s*"?${NUMBER}"?`);

export interface FoundFiles {
  /** Paths below the folder with '/' between names, in code-unit order. */
  readonly spectra: readonly string[];
  /** Files that do not look like spectra, in the same form. */
  readonly others: readonly string[];
  /** Folders that cannot be read, and links that are not followed because of where they lead. */
  readonly unread: readonly Failure[];
}

/**
 * Finds the spectra in a folder and below it by their content: a keyword of the format, or two columns of numbers.
 * Hidden files, hidden folders and the folder `except` are skipped. Links are followed to files inside the folder only; a link to a
 * folder inside it is skipped, since that folder is searched anyway.
 * @throws a system error if the folder itself cannot be read
 */
export async function findSpectra(folder: string, except?: string): Promise<FoundFiles> {
  const search = new Search(folder, except === undefined ? null : await realpath(except).catch(() => resolve(except)));
  await search.visit('', await entriesOf(folder));
  const { spectra, others, unread } = search;
  return { spectra: spectra.sort(byCodeUnits), others: others.sort(byCodeUnits), unread };
}

class Search {
  readonly spectra: string[] = [];
  readonly others: string[] = [];
  readonly unread: Failure[] = [];
  readonly #folder: string;
  /** Free of links. */
  readonly #except: string | null;

  constructor(folder: string, except: string | null) {
    this.#folder = folder;
    this.#except = except;
  }

  async visit(below: string, entries: readonly Dirent[]): Promise<void> {
    for (const entry of entries) {
      if (entry.name.startsWith('.')) continue;
      const name = below === '' ? entry.name : `${below}/${entry.name}`;
      const path = join(this.#folder, name);
      if (!entry.isFile() && (await this.#isExcept(path))) continue;
      if (entry.isDirectory()) await this.#visitFolder(name, path);
      else if (entry.isFile()) await this.#sort(name, path);
      else if (entry.isSymbolicLink()) await this.#visitLink(name);
    }
  }

  async #visitFolder(name: string, path: string): Promise<void> {
    try {
      const entries = await entriesOf(path);
      await this.visit(name, entries);
    } catch (error) {
      this.unread.push({ file: name, reason: causeOf(error) });
    }
  }

  async #visitLink(name: string): Promise<void> {
    try {
      const target = await pathWithin(this.#folder, name);
      const info = await stat(target);
      if (info.isFile()) await this.#sort(name, target);
      else if (isWithin(target, await realpath(join(this.#folder, dirname(name)))))
        this.unread.push({ file: name, reason: LEADS_BACK });
    } catch (error) {
      this.unread.push({ file: name, reason: error instanceof InputError ? error.reason : causeOf(error) });
    }
  }

  async #sort(name: string, path: string): Promise<void> {
    ((await looksLikeSpectrum(name, path)) ? this.spectra : this.others).push(name);
  }

  async #isExcept(path: string): Promise<boolean> {
    return this.#except !== null && (await realpath(path).catch(() => null)) === this.#except;
  }
}

const entriesOf = (folder: string): Promise<Dirent[]> => readdir(folder, { withFileTypes: true });

/** @param path may be that of a link's target, whose name says nothing */
async function looksLikeSpectrum(name: string, path: string): Promise<boolean> {
  const extension = extname(name).toLowerCase();
  if (SPECTRUM_EXTENSIONS.has(extension)) return true;
  const head = await headOf(path).catch(() => '');
  if (KEYWORD_LINE.test(head)) return true;
  return TABLE_EXTENSIONS.has(extension) && isTwoColumns(head);
}

async function headOf(path: string): Promise<string> {
  const file = await open(path);
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    return buffer.subarray(0, bytesRead).toString('latin1');
  } finally {
    await file.close();
  }
}

/** At least nine in ten of the whole lines, and no fewer than sixteen, begin with two numbers. */
function isTwoColumns(head: string): boolean {
  const lines = head.split(/\r\n?|\n/).slice(0, -1);
  const numeric = lines.filter((line) => TWO_NUMBERS.test(line)).length;
  return numeric >= 16 && numeric >= 0.9 * lines.length;
}

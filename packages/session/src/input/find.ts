import { open, readdir, stat } from 'node:fs/promises';
import { extname, join, resolve } from 'node:path';
import { byCodeUnits } from './code-units.ts';

/** Files with these extensions are spectra by their name: if they cannot be read, that is told. */
const SPECTRUM_EXTENSIONS = new Set(['.msa', '.emsa', '.psmsa']);
/** Files with these extensions are spectra when they hold two columns of numbers. */
const TABLE_EXTENSIONS = new Set(['.csv', '.tsv', '.txt', '.dat', '.xy']);
/** Bytes of a file's beginning that are looked at. */
const HEAD_BYTES = 8192;
/** Keywords of the format (ISO 22029) that head a file in practice. */
const KEYWORD_LINE = /^\s*#\s*(FORMAT|VERSION|NPOINTS|XPERCHAN|SPECTRUM|DATATYPE)\b/im;
const NUMBER = String.raw`[-+]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][-+]?\d+)?`;
const TWO_NUMBERS = new RegExp(`^\\s*"?${NUMBER}"?\\s*[\\s,;]\\s*"?${NUMBER}"?`);

export interface FoundFiles {
  /** Paths below the folder with '/' between names, in code-unit order. */
  readonly spectra: readonly string[];
  /** Files that do not look like spectra, in the same form. */
  readonly others: readonly string[];
}

/**
 * Finds the spectra in a folder and below it by their content: a keyword of the format, or two columns of numbers.
 * Hidden files, hidden folders and the folder `except` are passed over; links to folders are not followed.
 */
export async function findSpectra(folder: string, except?: string): Promise<FoundFiles> {
  const spectra: string[] = [];
  const others: string[] = [];
  const barred = except === undefined ? undefined : resolve(except);
  const visit = async (below: string): Promise<void> => {
    for (const entry of await readdir(join(folder, below), { withFileTypes: true })) {
      if (entry.name.startsWith('.')) continue;
      const name = below === '' ? entry.name : `${below}/${entry.name}`;
      const path = join(folder, name);
      if (entry.isDirectory()) {
        if (resolve(path) !== barred) await visit(name);
      } else if (entry.isFile() || (entry.isSymbolicLink() && (await isFile(path)))) {
        ((await looksLikeSpectrum(path)) ? spectra : others).push(name);
      }
    }
  };
  await visit('');
  return { spectra: spectra.sort(byCodeUnits), others: others.sort(byCodeUnits) };
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (info) => info.isFile(),
    () => false,
  );
}

async function looksLikeSpectrum(path: string): Promise<boolean> {
  const extension = extname(path).toLowerCase();
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

import { InputError, type Overview, pathWithin } from '@limner/session';
import { readFile, stat } from 'node:fs/promises';
import { basename, dirname, relative, resolve, sep } from 'node:path';
import { ViewerError } from './guard.ts';
import type { Given, StatedOfAll } from './jobs.ts';
import type { DoJob } from './readers.ts';
import type { Session } from './session.ts';

/** One spectrum of the session as the page lists it; `error` says why it cannot be read. */
export interface ShelfEntry {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly error: string | null;
}

/** The files on show. */
export interface OnShow {
  readonly files: readonly string[];
  /** A file that leads out of this folder is not read. */
  readonly folder: string | undefined;
  readonly session: Session | undefined;
  readonly stated: StatedOfAll;
  readonly compute: DoJob;
}

export interface OpenedFiles {
  isOnShow(id: string): boolean;
  list(): Promise<ShelfEntry[]>;
  /** A reading as the text of an answer. @throws ViewerError 404 for an id that is not listed, 422 for a file that cannot be read */
  reading(id: string, given?: Given): Promise<string>;
  /** The file itself and what is stated and known of it, for reading it elsewhere. @throws as reading does */
  source(id: string): Promise<SourceFile>;
}

export interface SourceFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly stated: StatedOfAll;
  /** Whether its session is read, and `stated` holds what that knows. */
  readonly inSession: boolean;
}

/** A spectrum of 16,384 channels as text takes well under 1 MB. */
const LARGEST_FILE_BYTES = 32 * 1024 * 1024;
const FILES_AT_ONCE = 16;
/** About 1 MB each. */
const READINGS_KEPT = 40;

/**
 * The files on show, each under its path below their common folder; readings are computed when asked for and kept.
 * A spectrum is read under its bare file name, so that its record is the same wherever the file lies.
 */
export function openFiles(shown: OnShow): OpenedFiles {
  const { files, folder, compute, stated } = shown;
  const paths = namedPaths(files, folder);
  const entries = new Map<string, Promise<ShelfEntry>>();
  const readings = new Map<string, Promise<string>>();

  const entryOf = async ([id, path]: readonly [string, string]) =>
    kept(entries, await edition(id, path), 2 * paths.size, () => describe(id, path, shown));

  const pathFor = (id: string): string => {
    const path = paths.get(id);
    if (path !== undefined) return path;
    throw new ViewerError(404, `No spectrum of this session is called ${JSON.stringify(id)}.`);
  };

  return {
    isOnShow: (id) => paths.has(id),
    list: async () => {
      const all = [...paths];
      const known = new Map(entriesIn(shown.session).map((entry) => [entry.id, entry]));
      const listed: ShelfEntry[] = [];
      for (let i = 0; i < all.length; i += FILES_AT_ONCE) {
        const some = all.slice(i, i + FILES_AT_ONCE);
        listed.push(...(await Promise.all(some.map(async (one) => known.get(one[0]) ?? entryOf(one)))));
      }
      return listed;
    },
    reading: async (id, given = {}) => {
      const path = pathFor(id);
      // Before the session is read as a whole, a spectrum is read on its own; afterwards anew.
      const how = statedOf(id, shown);
      const key = `${await edition(id, path)} ${how === stated ? 'alone' : 'of the session'} ${JSON.stringify(given)}`;
      return kept(readings, key, READINGS_KEPT, async () =>
        asUnreadable(async () => {
          const bytes = await load(path, folder);
          return compute({ kind: 'reading', bytes, name: basename(path), stated: how, given });
        }),
      );
    },
    source: async (id) => {
      const path = pathFor(id);
      const how = statedOf(id, shown);
      return { name: basename(path), bytes: await load(path, folder), stated: how, inSession: how !== stated };
    },
  };
}

/** The spectra of a session that is read, which need not be opened again to be listed; none before. */
function entriesIn(session: Session | undefined): ShelfEntry[] {
  const state = session?.state();
  return state?.state === 'read' ? listedIn(state.overview) : [];
}

/** The spectra of an overview as a list, those that could not be read behind the others. */
export const listedIn = ({ spectra, failures }: Overview): ShelfEntry[] => [
  ...spectra.map(({ file, title }) => ({ id: file, name: file, title, error: null })),
  ...failures.map(({ file, reason }) => ({ id: file, name: file, title: '', error: reason })),
];

/** What is stated of a spectrum: by its session and sheet once that is read, else of all. */
function statedOf(id: string, { session, stated }: OnShow): StatedOfAll {
  const how = session?.howRead(id);
  return how ? { options: how.options, ...(how.axis && { axis: how.axis }) } : stated;
}

/** Ids that last from start to start: paths below the session's or the common folder, with `/` between folders. */
function namedPaths(files: readonly string[], shown?: string): Map<string, string> {
  const absolute = [...new Set(files.map((file) => resolve(file)))];
  const folder = shown ?? commonFolderOf(files);
  return new Map(absolute.map((path) => [relative(folder, path).split(sep).join('/'), path]));
}

/** The folder that all files lie in or below. */
export function commonFolderOf(files: readonly string[]): string {
  const folders = files.map((file) => dirname(resolve(file)));
  return folders.reduce(commonFolder, folders[0] ?? sep);
}

function commonFolder(a: string, b: string): string {
  let folder = a;
  while (b !== folder && !b.startsWith(folder.endsWith(sep) ? folder : folder + sep)) folder = dirname(folder);
  return folder;
}

/** A key that changes with the file on disk, so that a file exported anew is read anew. */
async function edition(id: string, path: string): Promise<string> {
  const info = await stat(path).catch(() => null);
  return `${id}\n${info ? `${info.mtimeMs} ${info.size}` : 'gone'}`;
}

async function describe(id: string, path: string, shown: OnShow): Promise<ShelfEntry> {
  try {
    const bytes = await load(path, shown.folder);
    const title = await shown.compute({ kind: 'title', bytes, name: basename(path), stated: statedOf(id, shown) });
    return { id, name: id, title, error: null };
  } catch (error) {
    return { id, name: id, title: '', error: messageOf(error) };
  }
}

const unreadable = (why: string) => new ViewerError(422, `This file cannot be read: ${why}.`);

async function load(named: string, folder: string | undefined): Promise<Uint8Array> {
  const path = await pathOf(named, folder);
  const info = await stat(path).catch(() => {
    throw unreadable('it is no longer there');
  });
  if (!info.isFile()) throw unreadable('it is not a file');
  if (info.size > LARGEST_FILE_BYTES) throw unreadable('it is larger than 32 MiB, which no spectrum is');
  return readFile(path).catch((error: unknown) => {
    throw unreadable(messageOf(error));
  });
}

/** A file that a person named may lie anywhere; what lies in a folder on show may not lead out of it. */
async function pathOf(named: string, folder: string | undefined): Promise<string> {
  if (folder === undefined) return named;
  return pathWithin(folder, relative(folder, named)).catch((error: unknown) => {
    throw unreadable(error instanceof InputError ? error.reason : messageOf(error));
  });
}

async function asUnreadable<T>(reading: () => Promise<T>): Promise<T> {
  try {
    return await reading();
  } catch (error) {
    throw error instanceof ViewerError ? error : new ViewerError(422, messageOf(error));
  }
}

/** Remembers the outcome of `make` under a key, the most recently used `limit` of them; failures are not remembered. */
function kept<T>(memory: Map<string, Promise<T>>, key: string, limit: number, make: () => Promise<T>): Promise<T> {
  const value = memory.get(key) ?? make();
  memory.delete(key);
  memory.set(key, value);
  value.catch(() => memory.delete(key));
  for (const oldest of memory.keys()) {
    if (memory.size <= limit) break;
    memory.delete(oldest);
  }
  return value;
}

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

import { type EnergyAxis, type InstrumentKnowledge, readSpectrum, type Reading } from '@limner/core';
import { InputError, pathWithin } from '@limner/session';
import { readFile, stat } from 'node:fs/promises';
import { basename, dirname, relative, resolve, sep } from 'node:path';
import { ViewerError } from './guard.ts';
import type { Session } from './session.ts';

/** One spectrum of the session as the page lists it; `error` says why it cannot be read. */
export interface ShelfEntry {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly error: string | null;
}

/** From a file's bytes to its reading. @throws on bytes that are no spectrum */
export type Read = (bytes: Uint8Array, name: string, told: Told) => DrawnReading;

/** What a person states of a spectrum, and what its session knows of the instrument. */
export interface Told extends Given {
  readonly instrument: InstrumentKnowledge | null;
}

export interface Given {
  readonly beamKev?: number;
  readonly axis?: EnergyAxis;
}

export interface OpenedFiles {
  list(): Promise<ShelfEntry[]>;
  /** @throws ViewerError 404 for an id that is not listed, 422 for a file that cannot be read */
  reading(id: string, given?: Given): Promise<DrawnReading>;
  /** The file itself and what its session knows of the instrument, for reading it elsewhere. @throws as reading does */
  source(id: string): Promise<SourceFile>;
}

/** What is kept of a reading: not the fit behind it. */
export type DrawnReading = Pick<Reading, 'record' | 'curves'>;

export interface SourceFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly instrument: InstrumentKnowledge | null;
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
export function openFiles(files: readonly string[], read: Read, session?: Session): OpenedFiles {
  const paths = namedPaths(files, session?.folder);
  const entries = new Map<string, Promise<ShelfEntry>>();
  const readings = new Map<string, Promise<DrawnReading>>();

  const entryOf = async ([id, path]: readonly [string, string]) =>
    kept(entries, await edition(id, path), 2 * paths.size, () => describe(id, path, session));

  const pathFor = (id: string): string => {
    const path = paths.get(id);
    if (path !== undefined) return path;
    throw new ViewerError(404, `No spectrum of this session is called ${JSON.stringify(id)}.`);
  };

  return {
    list: async () => {
      const all = [...paths];
      const listed: ShelfEntry[] = [];
      for (let i = 0; i < all.length; i += FILES_AT_ONCE)
        listed.push(...(await Promise.all(all.slice(i, i + FILES_AT_ONCE).map(entryOf))));
      return listed;
    },
    reading: async (id, given = {}) => {
      const path = pathFor(id);
      // Before the session is read as a whole, a spectrum is read on its own; afterwards anew.
      const instrument = given.axis ? null : (session?.instrumentFor(id) ?? null);
      const key = `${await edition(id, path)} ${instrument ? 'of the session' : 'alone'} ${JSON.stringify(given)}`;
      return kept(readings, key, READINGS_KEPT, async () =>
        asUnreadable(() => load(path, session).then((bytes) => read(bytes, basename(path), { ...given, instrument }))),
      );
    },
    source: async (id) => {
      const path = pathFor(id);
      const instrument = session?.instrumentFor(id) ?? null;
      return { name: basename(path), bytes: await load(path, session), instrument };
    },
  };
}

/** Ids that last from start to start: paths below the session's or the common folder, with `/` between folders. */
function namedPaths(files: readonly string[], session?: string): Map<string, string> {
  const absolute = [...new Set(files.map((file) => resolve(file)))];
  const folder = session ?? absolute.map((path) => dirname(path)).reduce(commonFolder, dirname(absolute[0] ?? sep));
  return new Map(absolute.map((path) => [relative(folder, path).split(sep).join('/'), path]));
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

async function describe(id: string, path: string, session?: Session): Promise<ShelfEntry> {
  try {
    const bytes = await load(path, session);
    return { id, name: id, title: readSpectrum(bytes, { name: basename(path) }).title, error: null };
  } catch (error) {
    return { id, name: id, title: '', error: messageOf(error) };
  }
}

const unreadable = (why: string) => new ViewerError(422, `This file cannot be read: ${why}.`);

async function load(named: string, session?: Session): Promise<Uint8Array> {
  const path = await pathOf(named, session);
  const info = await stat(path).catch(() => {
    throw unreadable('it is no longer there');
  });
  if (!info.isFile()) throw unreadable('it is not a file');
  if (info.size > LARGEST_FILE_BYTES) throw unreadable('it is larger than 32 MiB, which no spectrum is');
  return readFile(path).catch((error: unknown) => {
    throw unreadable(messageOf(error));
  });
}

/** A file that a person named may lie anywhere; what lies in a session's folder may not lead out of it. */
async function pathOf(named: string, session?: Session): Promise<string> {
  if (!session) return named;
  return pathWithin(session.folder, relative(session.folder, named)).catch((error: unknown) => {
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

import type { Pace } from '@limner/core';
import { type HowRead, type Overview, overviewOf, type Progress, tag, type TagOptions } from '@limner/session';
import type { StatedOfAll } from './jobs.ts';
import { createHash } from 'node:crypto';
import { lstat, mkdir, mkdtemp } from 'node:fs/promises';
import { tmpdir, userInfo } from 'node:os';
import { join, resolve } from 'node:path';

/** How far a session is read, and what was found once it is. */
export type SessionState =
  | ({ readonly state: 'reading' } & Pace)
  | { readonly state: 'failed'; readonly message: string }
  | { readonly state: 'read'; readonly overview: Overview };

/** A folder of spectra that is read as a whole, in the background. */
export interface Session {
  readonly folder: string;
  state(): SessionState;
  /** How the session read a spectrum (path below the folder): with what it and its sheet know; null before it is read. */
  howRead(id: string): HowRead | null;
  /** Folder with its results, once they are written. */
  results(): string | null;
  /** Ends the reading; what is finished is kept for the next time. */
  close(): Promise<void>;
}

/** How a session is read: as `tag` is told. */
export interface SessionOptions extends StatedOfAll {
  readonly referenceFolder?: string;
  /** Folder that keeps the results, shared with `tag`. */
  readonly out?: string;
}

/**
 * Begins to read a folder of spectra. Unless told where, results are kept in a folder of this user in the machine's temporary place, one per session
 * folder, so that the next start need only read what is new; nothing is written into the session's own folder.
 */
export function openSession(folder: string, how: SessionOptions = { options: {} }): Session {
  const ended = new AbortController();
  let state: SessionState = { state: 'reading', done: 0, total: 0, worked: 0, seconds: 0 };
  let results: string | null = null;
  const start = performance.now();
  let howRead: Session['howRead'] = () => null;
  const reading = (async () => {
    const { options, out = await placeFor(folder), ...rest } = how;
    const onProgress = (progress: Progress): void => {
      state = { state: 'reading', ...progress, seconds: (performance.now() - start) / 1000 };
    };
    const outcome = await tag(folder, out, {
      ...(options as TagOptions),
      ...rest,
      onProgress,
      signal: ended.signal,
      aside: true,
    });
    howRead = outcome.howRead;
    results = out;
    state = { state: 'read', overview: await overviewOf(out) };
  })().catch((error: unknown) => {
    state = { state: 'failed', message: error instanceof Error ? error.message : String(error) };
  });
  return {
    folder: resolve(folder),
    state: () => state,
    howRead: (id) => howRead(id),
    results: () => results,
    close: async () => {
      ended.abort();
      await reading;
    },
  };
}

async function placeFor(folder: string): Promise<string> {
  const key = createHash('sha256').update(resolve(folder)).digest('hex').slice(0, 16);
  const own = join(tmpdir(), `limner-${userInfo().username}`);
  await mkdir(own, { recursive: true, mode: 0o700 });
  const { uid } = userInfo();
  const info = await lstat(own);
  // On a shared machine somebody else may have made a folder of that name: then a fresh one serves, for this once.
  const isOurs = info.isDirectory() && (uid < 0 || info.uid === uid);
  const place = join(isOurs ? own : await mkdtemp(join(tmpdir(), 'limner-')), key);
  await mkdir(place, { recursive: true, mode: 0o700 });
  return place;
}

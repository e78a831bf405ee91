import { type LimnerRecord, readingTree } from '@limner/core';
import { KeptRecords, overviewOf } from '@limner/session';
import { resolve } from 'node:path';
import { ViewerError } from './guard.ts';
import { listedIn, type OpenedFiles } from './opened.ts';
import type { Session } from './session.ts';

/** Results of an earlier run, on show without reading anything again. */
export interface KeptResults {
  /** In a sentence. */
  readonly summary: string;
  readonly session: Session;
  readonly opened: OpenedFiles;
}

/** Opens a results folder. @throws when it holds none */
export async function openResults(folder: string): Promise<KeptResults> {
  const [records, overview] = await Promise.all([KeptRecords.open(folder), overviewOf(folder)]);
  const listed = listedIn(overview);
  const recordOf = async (id: string): Promise<LimnerRecord> => {
    const record = await records.read(id);
    if (record) return record;
    const failed = overview.failures.find(({ file }) => file === id);
    if (failed) throw new ViewerError(422, failed.reason);
    throw new ViewerError(404, `No spectrum of these results is called ${JSON.stringify(id)}.`);
  };
  return {
    summary: overview.summary,
    session: {
      folder: resolve(folder),
      state: () => ({ state: 'read', overview }),
      howRead: () => null,
      results: () => resolve(folder),
      close: () => Promise.resolve(),
    },
    opened: {
      isOnShow: (id) => listed.some((one) => one.id === id),
      list: () => Promise.resolve(listed),
      reading: async (id, given = {}) => {
        if (Object.keys(given).length > 0) throw notHere();
        const record = await recordOf(id);
        return JSON.stringify({ record, tree: readingTree(record), curves: null });
      },
      source: () => Promise.reject(notHere()),
    },
  };
}

const notHere = (): ViewerError =>
  new ViewerError(422, 'Only the record is saved here. Show the folder of the spectra to read this one again.');

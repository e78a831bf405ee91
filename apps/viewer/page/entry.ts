import { type Changes, NO_CHANGES } from '@limner/core';
import { queryOf } from './changes/address.ts';
import { alternativeHere, fetchJson, readHere, type Source } from './reader.ts';
import type { AlternativeView, ReadingView } from './reading.ts';

/** A spectrum of the list. */
export interface Entry {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly error: string | null;
  /** Reads it with what a person changed. */
  read(changes: Changes): Promise<ReadingView>;
  /** The fit without an element, and with its best rival, made in the browser; null where there is none. */
  alternative(changes: Changes, symbol: string): Promise<AlternativeView | null>;
}

export type Listed = Pick<Entry, 'id' | 'name' | 'title' | 'error'>;

interface Sent {
  readonly name: string;
  /** Base 64. */
  readonly bytes: string;
  readonly instrument: Source['instrument'];
  readonly stated: Source['stated'];
}

const isUsual = (changes: Changes): boolean => queryOf(changes) === queryOf(NO_CHANGES);

/** A spectrum of the server: the server reads it as it is, the browser with changes. */
export function listedEntry(listed: Listed): Entry {
  const at = `api/spectra/${encodeURIComponent(listed.id)}`;
  const source = async (): Promise<Source> => {
    const { bytes, ...sent } = await fetchJson<Sent>(`${at}/source`);
    const key = `${listed.id} ${sent.instrument ? 'of the session' : 'alone'}`;
    return { ...sent, key, bytes: Uint8Array.from(atob(bytes), (one) => one.charCodeAt(0)) };
  };
  return {
    ...listed,
    read: async (changes) =>
      isUsual(changes) ? fetchJson<ReadingView>(`${at}/reading`) : readHere(await source(), changes),
    alternative: async (changes, symbol) => alternativeHere(await source(), changes, symbol),
  };
}

let opened = 0;

/** A file opened in the page: it is read in the browser and goes nowhere. */
export function openedEntry(file: File): Entry {
  const key = `opened ${++opened}`;
  const source = async (): Promise<Source> => ({
    key,
    name: file.name,
    bytes: new Uint8Array(await file.arrayBuffer()),
    instrument: null,
    stated: { options: {} },
  });
  return {
    id: `opened: ${file.name}`,
    name: file.name,
    title: '',
    error: null,
    read: async (changes) => readHere(await source(), changes),
    alternative: async (changes, symbol) => alternativeHere(await source(), changes, symbol),
  };
}

import { type Changes, NO_CHANGES, type Note } from '@limner/core';
import { queryOf } from './changes/address.ts';
import type { OpenedFile } from './opened-files.ts';
import { fetchNotes } from './notes/notes.ts';
import {
  alternativeHere,
  channelsHere,
  fetchJson,
  plannedHere,
  readHere,
  type Source,
  spectrumHere,
} from './reader.ts';
import type { AlternativeView, NamedSpectrum, PlainSpectrum, ReadingView } from './reading.ts';

/** A spectrum of the list. */
export interface Entry {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly error: string | null;
  /** Opened in the page, and closed there. */
  readonly opened: boolean;
  /** Reads it with what a person changed. */
  read(changes: Changes): Promise<ReadingView>;
  /** The notes of its folder; null for a file that goes nowhere. */
  notes(): Promise<readonly Note[] | null>;
  /** It as its file has it. */
  spectrum(changes: Changes): Promise<PlainSpectrum>;
  /** The measurements that would settle what it leaves open, as they would look. @throws where there are none */
  planned(changes: Changes): Promise<NamedSpectrum[]>;
  /** Its counts, where it states no axis; null where it does. @throws where it is no spectrum */
  channels(): Promise<number[] | null>;
  /** The fit without an element, and with its best rival, made in the browser; null where there is none. */
  alternative(changes: Changes, symbol: string): Promise<AlternativeView | null>;
}

export type Listed = Pick<Entry, 'id' | 'name' | 'title' | 'error'>;

interface Sent {
  readonly name: string;
  /** Base 64. */
  readonly bytes: string;
  readonly stated: Source['stated'];
  readonly inSession: boolean;
}

const isUsual = (changes: Changes): boolean => queryOf(changes) === queryOf(NO_CHANGES);

/** A spectrum of the server: the server reads it as it is, the browser with changes. */
export function listedEntry(listed: Listed): Entry {
  const at = `api/spectra/${encodeURIComponent(listed.id)}`;
  const source = async (): Promise<Source> => {
    const { bytes, inSession, ...sent } = await fetchJson<Sent>(`${at}/source`);
    const key = `${listed.id} ${inSession ? 'of the session' : 'alone'}`;
    return { ...sent, key, bytes: Uint8Array.from(atob(bytes), (one) => one.charCodeAt(0)) };
  };
  return {
    ...listed,
    opened: false,
    read: async (changes) =>
      isUsual(changes) ? fetchJson<ReadingView>(`${at}/reading`) : readHere(await source(), changes),
    notes: fetchNotes,
    spectrum: async (changes) => spectrumHere(await source(), changes),
    planned: async (changes) => plannedHere(await source(), changes),
    channels: async () => channelsHere(await source()),
    alternative: async (changes, symbol) => alternativeHere(await source(), changes, symbol),
  };
}

let opened = 0;

/** A file opened in the page: it is read in the browser and goes nowhere. */
export function openedEntry({ name, bytes }: OpenedFile): Entry {
  const key = `opened ${++opened}`;
  const source: Source = { key, name, bytes, stated: { options: {} } };
  return {
    id: `opened: ${name}`,
    name,
    title: '',
    error: null,
    opened: true,
    read: (changes) => readHere(source, changes),
    notes: () => Promise.resolve(null),
    spectrum: (changes) => spectrumHere(source, changes),
    planned: (changes) => plannedHere(source, changes),
    channels: () => channelsHere(source),
    alternative: (changes, symbol) => alternativeHere(source, changes, symbol),
  };
}

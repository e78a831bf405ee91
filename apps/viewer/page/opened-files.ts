import { dropBytes, keepBytes, keptBytes, keptNames } from './kept-bytes.ts';

/** A file opened in the page. */
export interface OpenedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const PREFIX = 'limner opened ';

/** Keeps a file for this tab, so that it survives a reload. One that does not fit stays open until the page is left. */
export const keepOpened = ({ name, bytes }: OpenedFile): void => void keepBytes(PREFIX + name, bytes);

export const forgetOpened = (name: string): void => dropBytes(PREFIX + name);

/** The files that this tab had open. */
export const keptOpened = (): OpenedFile[] =>
  keptNames(PREFIX).flatMap((key) => {
    const bytes = keptBytes(key);
    return bytes ? [{ name: key.slice(PREFIX.length), bytes }] : [];
  });

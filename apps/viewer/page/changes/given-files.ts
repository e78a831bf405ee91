import { type Changes, type GivenFile, notGiven, sha256Hex } from '@limner/core';
import { keepBytes, keptBytes } from '../kept-bytes.ts';

/** Files that changes name, by the SHA-256 of their bytes. */
export type GivenBytes = Readonly<Record<string, Uint8Array>>;

const PREFIX = 'limner given ';
/** Those given since the page was opened: one that does not fit into the tab's store is at hand until the page is left. */
const here = new Map<string, Uint8Array>();

/** Keeps a file that a person gives: changes name it, and the address can be read again in this tab. */
export function keepGiven(file: string, bytes: Uint8Array): GivenFile {
  const sha256 = sha256Hex(bytes);
  here.set(sha256, bytes);
  keepBytes(PREFIX + sha256, bytes);
  return { file, sha256 };
}

/** The bytes of all files that changes name. @throws where this tab does not have one */
export function givenFor({ materials, references }: Changes): GivenBytes {
  const named = [...(materials ? [materials] : []), ...references];
  return Object.fromEntries(
    named.map((one) => {
      const bytes = here.get(one.sha256) ?? keptBytes(PREFIX + one.sha256);
      if (!bytes) throw new Error(notGiven(one));
      return [one.sha256, bytes];
    }),
  );
}

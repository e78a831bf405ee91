import { lstat, realpath } from 'node:fs/promises';
import { isAbsolute, join, relative, sep } from 'node:path';
import { causeOf, InputError, readBytes } from './load.ts';

const LEADS_OUT = 'it is a link that leads out of the folder, so it is not read; copy the file itself into the folder';
const LEADS_NOWHERE = 'it is a link to a file that does not exist; copy the file itself into the folder';

/**
 * The path, free of links, that a name in a folder leads to. A folder may come from anybody, so nothing outside it is opened on its word.
 * @throws InputError if it leads out of the folder, round in a circle, or nowhere
 */
export async function pathWithin(folder: string, name: string): Promise<string> {
  const path = join(folder, name);
  let real: string;
  try {
    real = await realpath(path);
  } catch (error) {
    const dangling = error instanceof Error && 'code' in error && error.code === 'ENOENT' && (await isLink(path));
    throw new InputError(name, dangling ? LEADS_NOWHERE : causeOf(error), { cause: error });
  }
  if (!isWithin(await realpath(folder), real)) throw new InputError(name, LEADS_OUT);
  return real;
}

/** The bytes of a file in a folder, no larger than a spectrum can be. @throws InputError */
export async function readBytesWithin(folder: string, name: string): Promise<Uint8Array> {
  return readBytes(await pathWithin(folder, name), name);
}

/** Whether a path is a folder's own, or leads to something in it; both free of links. */
export function isWithin(folder: string, path: string): boolean {
  const below = relative(folder, path);
  return below !== '..' && !below.startsWith(`..${sep}`) && !isAbsolute(below);
}

async function isLink(path: string): Promise<boolean> {
  return lstat(path).then(
    (info) => info.isSymbolicLink(),
    () => false,
  );
}

import { causeInWriting } from '@limner/session';
import { mkdir, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { UsageError, WriteError } from './io.ts';

/**
 * Writes a folder whole or not at all: beside its place, then renamed.
 * @param path where   @param name as the user wrote it, for messages   @param files text by file name
 * @throws UsageError if something is there already; WriteError if the system refuses
 */
export async function newFolder(
  path: string,
  name: string,
  files: ReadonlyMap<string, string | Uint8Array>,
): Promise<void> {
  if ((await stat(path).catch(() => null)) !== null)
    throw new UsageError(`--out ${name}: it exists already; name a new folder`);
  const partial = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    await mkdir(partial, { recursive: true });
    for (const [file, text] of files) await writeFile(join(partial, file), text);
    await rename(partial, path);
  } catch (error) {
    await rm(partial, { recursive: true, force: true });
    throw new WriteError(`${name}: cannot be written: ${causeInWriting(error)}`, { cause: error });
  }
}

import { causeInWriting } from '@limner/session';
import { rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { UsageError, WriteError } from './io.ts';

/**
 * The file that --out names; null for standard output.
 * @throws UsageError where --force has no file to replace
 */
export function fileToWrite(command: string, { out, force }: { readonly out?: string; readonly force?: true }) {
  if (out !== undefined && out !== '-') return out;
  if (force) throw new UsageError(`${command}: --force replaces a file, and standard output is not one`);
  return null;
}

/**
 * Writes a file whole or not at all: beside its place, then renamed. Only a plain file is ever replaced, and only if asked.
 * @param name as the user wrote it, for messages   @param replace 'never' where the command has no --force
 * @throws UsageError if the name will not do; WriteError if the system refuses
 */
export async function save(
  path: string,
  name: string,
  content: string | Uint8Array,
  replace: boolean | 'never',
): Promise<void> {
  const there = await stat(path).catch(() => null);
  if (there !== null && !there.isFile()) throw new UsageError(`${name}: not a regular file; give another name`);
  if (there !== null && replace !== true)
    throw new UsageError(`${name}: the file exists; ${replace ? 'give another name' : '--force replaces it'}`);
  const folder = await stat(dirname(path)).catch(() => null);
  if (!folder?.isDirectory()) throw new UsageError(`${name}: the folder does not exist; create it or name another`);
  const partial = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    await writeFile(partial, content);
    await rename(partial, path);
  } catch (error) {
    await rm(partial, { force: true });
    throw new WriteError(`${name}: cannot be written: ${causeInWriting(error)}`, { cause: error });
  }
}

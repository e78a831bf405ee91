import { causeOf } from '@limner/session';
import { rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { UsageError } from './io.ts';

/**
 * Writes a file whole or not at all: beside its place, then renamed. Only a plain file is ever replaced, and only if asked.
 * @param name as the user wrote it, for messages
 * @throws UsageError
 */
export async function save(path: string, name: string, text: string, replace: boolean): Promise<void> {
  const there = await stat(path).catch(() => null);
  if (there !== null && !there.isFile()) throw new UsageError(`${name}: not a regular file; give another name`);
  if (there !== null && !replace) throw new UsageError(`${name}: the file exists; --force replaces it`);
  const partial = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    await writeFile(partial, text);
    await rename(partial, path);
  } catch (error) {
    await rm(partial, { force: true });
    throw new UsageError(`${name}: cannot be written: ${causeOf(error)}`, { cause: error });
  }
}

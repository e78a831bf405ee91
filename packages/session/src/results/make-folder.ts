import { mkdir, stat } from 'node:fs/promises';
import { dirname } from 'node:path';

/**
 * Makes a folder, and those above it as needed; none if it is there. One by one, since Node's recursive `mkdir` reports a read-only disk
 * as ENOENT.
 * @throws a system error that says what is wrong
 */
export async function makeFolder(path: string): Promise<void> {
  const error = await failureOf(path);
  if (error === null) return;
  if (codeOf(error) !== 'ENOENT' || dirname(path) === path) throw error;
  await makeFolder(dirname(path));
  const still = await failureOf(path);
  if (still !== null) throw still;
}

/** Null where the folder is there afterwards, whoever made it. */
async function failureOf(path: string): Promise<Error | null> {
  try {
    await mkdir(path);
    return null;
  } catch (error) {
    const isThere = await stat(path).then(
      (info) => info.isDirectory(),
      () => false,
    );
    return isThere ? null : (error as Error);
  }
}

const codeOf = (error: Error): unknown => ('code' in error ? error.code : undefined);

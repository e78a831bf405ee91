import { open, rename, rm } from 'node:fs/promises';
import { hostname } from 'node:os';
import { threadId } from 'node:worker_threads';

/**
 * Writes a file that appears whole: under another name, then renamed. Once this resolves, it survives the end of the process and a power
 * cut; when it fails, what was there before stays.
 */
export async function writeWhole(path: string, content: string | Uint8Array): Promise<void> {
  const partial = `${path}.${hostname()}-${process.pid}-${threadId}.part`;
  try {
    const file = await open(partial, 'w');
    try {
      await file.writeFile(content);
      await file.datasync();
    } finally {
      await file.close();
    }
    await rename(partial, path);
  } catch (error) {
    await rm(partial, { force: true });
    throw error;
  }
}

import type { OwnMaterials } from '@limner/core';
import { basename } from 'node:path';
import { messageOf, readBytes } from './load.ts';
import { PigmentsError, pigmentsIn } from './pigment-table.ts';
import { sha256Of } from './sha256.ts';

/** The user's own entries from a table in a file. @param where names it in errors @throws PigmentsError */
export async function loadPigments(path: string, where = path): Promise<OwnMaterials> {
  const bytes = await readBytes(path, where).catch((error: unknown) => {
    throw new PigmentsError(messageOf(error), { cause: error });
  });
  return { file: basename(path), sha256: sha256Of(bytes), entries: pigmentsIn(bytes, where) };
}

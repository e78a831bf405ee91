import type { PrepareOptions, ReferenceGrain } from '@limner/core';
import { InputError, messageOf, readReferenceIn, referencesIn, SheetError } from '@limner/session';
import { resolve } from 'node:path';
import type { ReadingOptions } from './inputs.ts';
import { complain, type Io, UsageError } from './io.ts';

/** The references of a folder, those that cannot be read named and left out. @throws UsageError where there are none */
export async function referencesOf(
  io: Io,
  folder: string,
  { axis, options }: ReadingOptions,
): Promise<ReferenceGrain[]> {
  const from = resolve(io.cwd, folder);
  const files = await referencesIn(from, folder).catch((error: unknown) => {
    if (error instanceof InputError || error instanceof SheetError)
      throw new UsageError(error.message, { cause: error });
    throw error;
  });
  const plain: PrepareOptions = { ...options, claim: [] };
  const out: ReferenceGrain[] = [];
  for (const file of files) {
    try {
      out.push(await readReferenceIn(from, file, { axis, options: plain }));
    } catch (error) {
      complain(io, `reference ${messageOf(error)}`);
    }
  }
  return out;
}

import type { ReferenceGrain } from '@limner/core';
import { byCodeUnits } from '../input/code-units.ts';
import type { Failure } from '../input/failure.ts';
import { expectKept } from './not-kept.ts';
import type { ReferenceJob } from './reference-one.ts';
import type { Workers } from './workers.ts';

/** References of a session, and which could not be read. */
export interface References {
  readonly grains: readonly ReferenceGrain[];
  readonly unread: readonly Failure[];
}

/** Reads the references of a session. @throws OutputError if they cannot be kept */
export async function readReferences(
  workers: Workers,
  jobs: readonly ReferenceJob[],
  out: string,
): Promise<References> {
  const byName = new Map(jobs.map((job) => [job.as, job]));
  const grains: ReferenceGrain[] = [];
  const unread: Failure[] = [];
  for await (const done of workers.all([...byName.keys()], (as) => byName.get(as)!)) {
    const { as, grain, reason } = expectKept(out, done);
    if (grain) grains.push(grain);
    else unread.push({ file: as, reason });
  }
  return { grains: grains.sort((a, b) => byCodeUnits(a.name, b.name)), unread };
}

import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Piscina } from 'piscina';
import { sha256Of } from '../input/sha256.ts';
import { doJob, type Done, type Job } from './job.ts';

/** Fewer files than this are read without workers: starting those takes longer. */
const FEWEST_FOR_WORKERS = 4;
/** Tasks under way per worker: enough that none waits while the results are written in order. */
const TASKS_PER_WORKER = 8;

/**
 * Room for short-lived arrays per worker. Of a spectrum's processor time a seventh goes into collecting them at the usual size; the
 * collector's threads then take the other workers' cores.
 */
const YOUNG_MB = 192;

/** The worker's file stands beside this one where both are built; running from the sources there is none. */
const WORKER = fileURLToPath(new URL('./worker.js', import.meta.url));

/** Tells builds of the same version apart: a hash of the worker's program, 'sources' where there is none. */
export function buildOf(): string {
  return existsSync(WORKER) ? sha256Of(readFileSync(WORKER)).slice(0, 16) : 'sources';
}

/** Workers that do the jobs of a session; without workers, or for few jobs, this thread does them. */
export class Workers {
  readonly #workers: number;
  #pool: Piscina<Job, unknown> | null = null;

  constructor(workers: number) {
    this.#workers = existsSync(WORKER) ? workers : 1;
  }

  /** What comes of the job for each name, in the order of the names. Only a few jobs and results are held at a time. */
  async *all<J extends Job>(names: readonly string[], jobOf: (name: string) => J): AsyncGenerator<Done<J>> {
    if (this.#workers < 2 || (this.#pool === null && names.length < FEWEST_FOR_WORKERS)) {
      for (const name of names) {
        // Lets signals and timers in between two spectra.
        await new Promise((resolve) => setImmediate(resolve));
        yield (await doJob(jobOf(name))) as Done<J>;
      }
      return;
    }
    const pool = (this.#pool ??= await this.#start());
    const underWay: Promise<Done<J>>[] = [];
    for (const name of names) {
      const done = pool.run(jobOf(name)) as Promise<Done<J>>;
      done.catch(() => {}); // told when its turn comes
      underWay.push(done);
      if (underWay.length >= this.#workers * TASKS_PER_WORKER) yield await underWay.shift()!;
    }
    while (underWay.length > 0) yield await underWay.shift()!;
  }

  async #start(): Promise<Piscina<Job, unknown>> {
    const { Piscina } = await import('piscina');
    return new Piscina<Job, unknown>({
      filename: WORKER,
      minThreads: this.#workers,
      maxThreads: this.#workers,
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
    });
  }

  /** Ends the workers, whatever they are at. */
  async end(): Promise<void> {
    await this.#pool?.destroy();
  }
}

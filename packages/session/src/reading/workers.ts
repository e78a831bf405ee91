import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Piscina } from 'piscina';
import { sha256Of } from '../input/sha256.ts';
import { doJob, type Done, type Job } from './job.ts';

/** Fewer files than this are read without workers, which take longer to start. */
const FEWEST_FOR_WORKERS = 4;
/** Jobs under way per worker: enough that none waits while results are written in order. */
const JOBS_PER_WORKER = 8;
/** Of these, so many are with the worker: it goes on with the next while the disk takes a result, and while this thread is busy. */
const AT_HAND = 2;

/**
 * Room for short-lived objects per worker: twice the usual, so that the collector's threads seldom take the other workers' cores. More
 * than that has gained nothing since most short arrays share blocks, and costs as much memory.
 */
const YOUNG_MB = 96;

/** The worker's file stands beside this one once built; there is none when running from the sources. */
const WORKER = fileURLToPath(new URL('./worker.js', import.meta.url));

/** Tells builds of the same version apart: a hash of the worker's program, 'sources' where there is none. */
export function buildOf(): string {
  return existsSync(WORKER) ? sha256Of(readFileSync(WORKER)).slice(0, 16) : 'sources';
}

/** Workers that do the jobs of a session; without workers, or for few jobs, this thread does them. */
export class Workers {
  readonly #workers: number;
  /** This thread does all jobs. */
  readonly #isAlone: boolean;
  /** Fewest jobs that start the workers. */
  readonly #fewest: number;
  #pool: Piscina<Job, unknown> | null = null;

  /** @param aside nothing is done in this thread, however little there is to do */
  constructor(workers: number, aside = false) {
    this.#workers = existsSync(WORKER) ? workers : 0;
    this.#isAlone = this.#workers < (aside ? 1 : 2);
    this.#fewest = aside ? 1 : FEWEST_FOR_WORKERS;
  }

  /** The result of the job for each name, in the order of the names. Only a few jobs and results are held at a time. */
  async *all<J extends Job>(names: readonly string[], jobOf: (name: string) => J): AsyncGenerator<Done<J>> {
    if (this.#isAlone || (this.#pool === null && names.length < this.#fewest)) {
      for (const name of names) {
        // Lets signals and timers through between two spectra.
        await new Promise((resolve) => setImmediate(resolve));
        yield (await doJob(jobOf(name))) as Done<J>;
      }
      return;
    }
    const pool = (this.#pool ??= await this.#start());
    const underWay: Promise<Done<J>>[] = [];
    for (const name of names) {
      const done = pool.run(jobOf(name)) as Promise<Done<J>>;
      done.catch(() => {}); // reported when its turn comes
      underWay.push(done);
      if (underWay.length >= this.#workers * JOBS_PER_WORKER) yield await underWay.shift()!;
    }
    while (underWay.length > 0) yield await underWay.shift()!;
  }

  async #start(): Promise<Piscina<Job, unknown>> {
    const { Piscina } = await import('piscina');
    return new Piscina<Job, unknown>({
      filename: WORKER,
      minThreads: this.#workers,
      maxThreads: this.#workers,
      concurrentTasksPerWorker: AT_HAND,
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
    });
  }

  /** Ends the workers, whatever they are doing. */
  async end(): Promise<void> {
    // A result that is on its way while its worker is ended belongs to no job any more: the pool would call it an error.
    this.#pool?.on('error', () => {});
    await this.#pool?.destroy();
  }
}

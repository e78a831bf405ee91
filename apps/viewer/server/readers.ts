import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import type { Piscina } from 'piscina';
import { ViewerError } from './guard.ts';
import { doJob, type Job } from './jobs.ts';

/** Does a job, somewhere. @throws on bytes that are no spectrum */
export type DoJob = (job: Job) => string | Promise<string>;

/** The worker's file stands beside this one once built; there is none when running from the sources. */
const WORKER = ['./viewer-worker.js', './worker.js']
  .map((path) => fileURLToPath(new URL(path, import.meta.url)))
  .find((path) => existsSync(path));

/** Jobs that may wait for a worker: an hour's work of one core; whoever asks for more is told to come back. */
const MOST_WAITING = 1000;

/** Threads that compute, so that the one that answers never does; each kind starts with its first job. Titles never wait for readings. */
export class Readers {
  readonly #pools = new Map<Job['kind'], Promise<Piscina<Job, string>>>();

  /** @throws ViewerError 503 when too many wait */
  async do(job: Job): Promise<string> {
    if (WORKER === undefined) return doJob(job);
    let starting = this.#pools.get(job.kind);
    if (!starting) this.#pools.set(job.kind, (starting = start(WORKER, THREADS[job.kind])));
    const pool = await starting;
    if (pool.queueSize >= MOST_WAITING) throw new ViewerError(503, 'Too many readings are under way; try again later.');
    return pool.run(job);
  }

  async end(): Promise<void> {
    for (const starting of this.#pools.values()) {
      const pool = await starting;
      // An answer that is on its way while its thread is ended belongs to no job any more: the pool would call it an error.
      pool.on('error', () => {});
      await pool.destroy();
    }
  }
}

const THREADS: Readonly<Record<Job['kind'], number>> = {
  title: 1,
  reading: Math.max(1, availableParallelism() - 1),
};

async function start(filename: string, maxThreads: number): Promise<Piscina<Job, string>> {
  const { Piscina } = await import('piscina');
  return new Piscina<Job, string>({ filename, minThreads: 1, maxThreads });
}

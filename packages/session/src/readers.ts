import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Outcome, readOne, sha256Of, type Task } from './read-one.ts';

/** Fewer files than this are read without workers: starting those takes longer. */
const FEWEST_FOR_WORKERS = 4;
/** Tasks under way per worker: enough that none waits while the results are written in order. */
const TASKS_PER_WORKER = 8;

/** The worker's file stands beside this one where both are built; running from the sources there is none. */
const WORKER = fileURLToPath(new URL('./worker.js', import.meta.url));

/** Tells builds of the same version apart: a hash of the worker's program, 'sources' where there is none. */
export function buildOf(): string {
  return existsSync(WORKER) ? sha256Of(readFileSync(WORKER)).slice(0, 16) : 'sources';
}

/**
 * What became of each task, in the order of the tasks, read by this many workers. Only a few results are held at a time.
 * Ending the iteration early ends the workers.
 */
export async function* readAll(tasks: readonly Task[], workers: number): AsyncGenerator<Outcome> {
  const used = Math.min(workers, tasks.length);
  if (used < 2 || tasks.length < FEWEST_FOR_WORKERS || !existsSync(WORKER)) {
    for (const task of tasks) {
      // Lets signals and timers in between two spectra.
      await new Promise((resolve) => setImmediate(resolve));
      yield await readOne(task);
    }
    return;
  }
  const { Piscina } = await import('piscina');
  const pool = new Piscina<Task, Outcome>({ filename: WORKER, minThreads: used, maxThreads: used });
  const underWay: Promise<Outcome>[] = [];
  try {
    for (const task of tasks) {
      const outcome = pool.run(task);
      outcome.catch(() => {}); // told when its turn comes
      underWay.push(outcome);
      if (underWay.length >= used * TASKS_PER_WORKER) yield await underWay.shift()!;
    }
    while (underWay.length > 0) yield await underWay.shift()!;
  } finally {
    await pool.destroy();
  }
}

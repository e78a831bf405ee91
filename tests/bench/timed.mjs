// A command of limner, timed.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const LIMNER = process.env.LIMNER ?? fileURLToPath(new URL('../../apps/cli/bin/limner.js', import.meta.url));

/** Seconds of the clock and of processor, and peak memory in MB. @param core the only core it may use, where given (Linux: taskset) */
export function timed(args, core) {
  const start = performance.now();
  const { stderr, status } = spawnSync(
    '/usr/bin/time',
    ['-f', '%U %S %M', ...pinned(core), process.execPath, LIMNER, ...args],
    {
      encoding: 'utf8',
      maxBuffer: 2 ** 30,
      stdio: ['ignore', 'ignore', 'pipe'],
    },
  );
  const wall = (performance.now() - start) / 1000;
  if (status !== 0) throw new Error(stderr.slice(-2000));
  const [user, system, kb] = stderr.trim().split('\n').at(-1).split(' ').map(Number);
  return { wall, processor: user + system, mb: kb / 1024 };
}

const pinned = (core) => (core === undefined ? [] : ['taskset', '-c', String(core)]);

import { paceText } from '@limner/core';
import type { Progress } from '@limner/session';
import type { Io } from './io.ts';

/** Between two tellings: on a terminal, where a line overwrites itself, and in a log, where lines stay. */
const EVERY_MS = { terminal: 200, log: 60_000 } as const;

/** How far, how fast, how long still: a line on the terminal that overwrites itself, or a line a minute in a log. */
export function progressOn(io: Io, quiet: boolean): { onProgress?: (progress: Progress) => void } {
  if (quiet) return {};
  const { isTTY = false } = io.stderr;
  const every = isTTY ? EVERY_MS.terminal : EVERY_MS.log;
  const start = performance.now();
  let told = isTTY ? -Infinity : start;
  return {
    onProgress: (progress) => {
      const now = performance.now();
      const isDue = now - told >= every;
      const text = (): string => paceText({ ...progress, seconds: (now - start) / 1000 });
      if (isDue) told = now;
      if (!isTTY && isDue) io.stderr.write(`${text()}\n`);
      if (!isTTY) return;
      if (progress.done >= progress.total) io.stderr.write('\r\u001b[K');
      else if (isDue) io.stderr.write(`\r${bar(progress)} ${text()}\u001b[K`);
    },
  };
}

const bar = ({ done, total }: Progress): string => {
  const parts = Math.round((20 * done) / total);
  return `[${'='.repeat(parts)}${' '.repeat(20 - parts)}]`;
};

import { fixed, significant } from '@limner/core';
import type { Io } from './io.ts';

/** Milliseconds between two tellings. */
const EVERY_MS = 200;

/** A line on the terminal that overwrites itself: how far, how fast, how long still. Nothing where no terminal listens. */
export function progressOn(io: Io, quiet: boolean): { onProgress?: (done: number, total: number) => void } {
  if (!io.stderr.isTTY || quiet) return {};
  const start = performance.now();
  let told = -Infinity;
  return {
    onProgress: (done, total) => {
      const now = performance.now();
      if (done >= total) io.stderr.write('\r\u001b[K');
      else if (now - told >= EVERY_MS) {
        told = now;
        io.stderr.write(`\r${progressText(done, total, (now - start) / 1000)}\u001b[K`);
      }
    },
  };
}

/** Rate and time left are told once there is something to tell them from. */
export function progressText(done: number, total: number, seconds: number): string {
  const parts = Math.round((20 * done) / total);
  const bar = `[${'='.repeat(parts)}${' '.repeat(20 - parts)}] ${done} of ${total}`;
  if (done < 2 || seconds < 1) return bar;
  const perSecond = done / seconds;
  const rate = perSecond >= 1 ? `${significant(perSecond, 2)} a second` : `${significant(60 * perSecond, 2)} a minute`;
  return `${bar}, ${rate}, ${timeText((total - done) / perSecond)} left`;
}

function timeText(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  if (seconds < 90 * 60) return `${Math.round(seconds / 60)} min`;
  return `${fixed(seconds / 3600, 1)} h`;
}

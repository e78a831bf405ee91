import { fixed } from '@limner/core';

export type ScaleName = 'linear' | 'root' | 'log';

/** How counts become heights; no counts have the height 0. */
export interface Scale {
  readonly name: ScaleName;
  readonly label: string;
  readonly of: (counts: number) => number;
  readonly ticks: (highest: number) => number[];
}

/** Where the logarithm begins, counts. */
const LOG_FLOOR = 0.5;

export const SCALES: Record<ScaleName, Scale> = {
  root: { name: 'root', label: 'square root', of: (c) => Math.sqrt(Math.max(0, c)), ticks: rootTicks },
  linear: { name: 'linear', label: 'linear', of: (c) => c, ticks: linearTicks },
  log: {
    name: 'log',
    label: 'logarithmic',
    of: (c) => Math.log10(Math.max(c, LOG_FLOOR) / LOG_FLOOR),
    ticks: logTicks,
  },
};

/** The lowest height in sight: only the logarithm leaves out what lies far below the lowest counts. */
export const bottomOf = (scale: Scale, lowest: number): number =>
  scale.name === 'log' ? Math.max(0, scale.of(lowest) - 0.4) : 0;

export const tickText = (counts: number): string => fixed(counts, 0);

/** The round step (1, 2 or 5 times a power of ten) of which about `n` fit into a span. */
function roundStep(span: number, n: number): number {
  const power = 10 ** Math.floor(Math.log10(span / n));
  return power * ([1, 2, 5].find((m) => m * power * n >= span) ?? 10);
}

function linearTicks(highest: number): number[] {
  const step = Math.max(1, roundStep(highest, 5));
  return Array.from({ length: Math.floor(highest / step) + 1 }, (_, i) => i * step);
}

/** Round numbers about evenly spaced in the square root. */
function rootTicks(highest: number): number[] {
  const ticks = [0];
  const gap = Math.sqrt(highest) / 6;
  const lowest = Math.floor(Math.log10(Math.max(1, highest / 100)));
  for (let power = 10 ** lowest; power <= highest; power *= 10) {
    for (const m of [1, 2, 5]) {
      const tick = m * power;
      if (tick <= highest && Math.sqrt(tick) - Math.sqrt(ticks.at(-1)!) >= gap) ticks.push(tick);
    }
  }
  return ticks;
}

function logTicks(highest: number): number[] {
  const ticks: number[] = [];
  for (let power = 1; power <= highest * 1.5; power *= 10) ticks.push(power);
  return ticks;
}

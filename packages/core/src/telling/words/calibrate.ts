// Words for calibrating a file in bare channels by two known peaks.

import { fixed } from '../terms/numerals.ts';

/** What the page says where two peaks are pointed at. */
export const CALIBRATE_WORDS = {
  title: 'Calibrate it by two known peaks',
  lead: 'Click two peaks, or type their channels, and say which line each is. The farther apart, the better.',
  picture: 'Counts over channels, on the scale of their square roots. Channels can be typed below.',
  /** Before anything is pointed at. */
  start: 'Channels from left to right.',
  /** What is under the pointer. */
  at: (channel: number, counts: number): string => `Channel ${fixed(channel, 0)}: ${fixed(counts, 0)} counts.`,
} as const;

// Words for calibrating a file in bare channels by two known peaks.

import { fixed } from '../terms/numerals.ts';

/** What the page says where two peaks are pointed at. */
export const CALIBRATE_WORDS = {
  title: 'Calibrate it by two known peaks',
  lead: 'Click two peaks, or type their channels, and say which line each is. The farther apart, the better.',
  picture: 'Counts by channel, on a square-root scale. You can also type the channels below.',
  /** Before anything is pointed at. */
  start: 'Channels run from left to right.',
  /** What is under the pointer. */
  at: (channel: number, counts: number): string => `Channel ${fixed(channel, 0)}: ${fixed(counts, 0)} counts.`,
} as const;

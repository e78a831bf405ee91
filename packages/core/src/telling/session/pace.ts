// How fast a session is read, and how long it still takes: for the terminal, a log and the page.

import { counted, fixed, significant } from '../terms/numerals.ts';

/** How far a session is read. */
export interface Pace {
  /** Spectra and other steps that are finished, those kept from an earlier run among them. */
  readonly done: number;
  /** 0 while the files are being looked for. */
  readonly total: number;
  /** Steps worked out in this run: only these say how fast it goes. */
  readonly worked: number;
  /** Since the run began. */
  readonly seconds: number;
}

/** '12 of 19, 2.1 a second, 4 s left': rate and time left once there is something to tell them from. */
export const paceText = (pace: Pace): string =>
  [`${fixed(pace.done, 0)} of ${fixed(pace.total, 0)}`, ...rateText(pace)].join(', ');

/** The same in a sentence for the page. */
export const progressText = (pace: Pace): string =>
  pace.total > 0
    ? `${[`${fixed(pace.done, 0)} of ${counted(pace.total, 'step')}`, ...rateText(pace)].join(', ')}. You can read any spectrum in the list meanwhile.`
    : 'Looking for spectra.';

function rateText({ done, total, worked, seconds }: Pace): string[] {
  if (worked < 2 || seconds < 1) return [];
  const perSecond = worked / seconds;
  const rate = perSecond >= 1 ? `${significant(perSecond, 2)} a second` : `${significant(60 * perSecond, 2)} a minute`;
  return [rate, `${timeText((total - done) / perSecond)} left`];
}

function timeText(seconds: number): string {
  if (seconds < 90) return `${fixed(Math.ceil(seconds), 0)}\u00a0s`;
  if (seconds < 90 * 60) return `${fixed(Math.round(seconds / 60), 0)}\u00a0min`;
  return `${fixed(seconds / 3600, 1)}\u00a0h`;
}

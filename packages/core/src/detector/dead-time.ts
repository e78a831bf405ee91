import { exp } from '../arithmetic/exponential.ts';

/** Time that a pulse keeps the electronics busy, s; common practice, no source: 1 to 10 us at medium resolution. */
export const DEFAULT_DEAD_TIME_S = 4e-6;

/**
 * Pulses recorded per second of real time, of those that arrive: each arrival keeps the electronics busy, also one that is
 * not recorded (paralysable). Greatest at 1 / dead time, where 1 / e of the arrivals are recorded.
 * Source: G.F. Knoll, Radiation Detection and Measurement, chapter 4, from memory.
 */
export function recordedPerS(arrivingPerS: number, deadTimeS: number): number {
  return arrivingPerS * exp(-arrivingPerS * deadTimeS);
}

/** Real time that a live time takes at a rate of arrivals, s; the live-time clock stands still while the electronics are busy. */
export function realTimeS(liveTimeS: number, arrivingPerS: number, deadTimeS: number): number {
  return liveTimeS * exp(arrivingPerS * deadTimeS);
}

import { type EnergyAxis, type IdentifyOptions, readingOf, readSpectrum } from '@limner/core';
import { plainReading } from './plain.ts';

/** What a person states of a spectrum. */
export interface Given {
  readonly beamKev?: number;
  readonly axis?: EnergyAxis;
}

/** What is stated of a spectrum, of all when the viewer was started or by its session. Plain data. */
export interface StatedOfAll {
  readonly options: IdentifyOptions;
  readonly axis?: EnergyAxis;
}

/** What is computed of a spectrum, aside from the thread that answers; plain data, so that it can go to a worker. */
export type Job = { readonly bytes: Uint8Array; readonly name: string; readonly stated: StatedOfAll } & (
  { readonly kind: 'title' } | { readonly kind: 'reading'; readonly given: Given }
);

/** The title in the file, or its reading as the text of an answer. @throws on bytes that are no spectrum */
export function doJob(job: Job): string {
  const { bytes, name, stated } = job;
  const axis = stated.axis && { axis: stated.axis };
  if (job.kind === 'title') return readSpectrum(bytes, { name, ...axis }).title;
  const { given } = job;
  // What a session knows is of the axis that its files state.
  const options = { ...stated.options, ...given, ...(given.axis && { instrument: null }) };
  const spectrum = readSpectrum(bytes, { name, ...axis, ...given });
  return JSON.stringify(plainReading(readingOf(spectrum, options)));
}

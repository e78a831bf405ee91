import {
  DATA_VERSION,
  type EnergyAxis,
  type IdentifyOptions,
  PIGMENT_DATA_VERSION,
  SOFTWARE_VERSION,
} from '@limner/core';

/** All that decides a result besides the file itself. */
export interface Circumstances {
  readonly software: {
    readonly name: 'limner';
    readonly version: string;
    /** Tells builds of one version apart. */
    readonly build: string;
    /** What computed, like 'V8 12.4': records are tested to be the same on several, which proves nothing of the next. */
    readonly engine: string;
    readonly atomicData: string;
    readonly pigmentData: string;
  };
  readonly options: IdentifyOptions & { readonly axis?: EnergyAxis };
}

const ENGINE = `V8 ${process.versions.v8.split('.').slice(0, 2).join('.')}`;

/** The circumstances of a run, always with its keys in the same order. */
export function circumstancesOf(options: IdentifyOptions, axis: EnergyAxis | undefined, build: string): Circumstances {
  const given = { ...options, ...(axis && { axis }) };
  const sorted = Object.fromEntries(Object.entries(given).sort(([a], [b]) => (a < b ? -1 : 1)));
  return {
    software: {
      name: 'limner',
      version: SOFTWARE_VERSION,
      build,
      engine: ENGINE,
      atomicData: DATA_VERSION,
      pigmentData: PIGMENT_DATA_VERSION,
    },
    options: sorted,
  };
}

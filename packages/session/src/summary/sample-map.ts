import type { MapTold } from '@limner/core';
import type { Point } from './point.ts';
import { type Profile, profileOf } from './profile.ts';

/** The points of one sample in one unit. Those outside the layers are often so far away that they would crowd the others. */
export interface SampleMap extends MapTold {
  readonly points: readonly Point[];
  readonly profile: Profile | null;
}

/** Points by sample (one map for all without a sheet), each in the unit that most of its points state. */
export function sampleMapsOf(points: readonly Point[]): SampleMap[] {
  const samples = [...new Set(points.map(({ sample }) => sample))].sort((a, b) =>
    (a ?? '\uffff') < (b ?? '\uffff') ? -1 : 1,
  );
  return samples.map((sample) => {
    const its = points.filter((point) => point.sample === sample);
    const many = (unit: string): number => its.filter((point) => point.unit === unit).length;
    const units = [...new Set(its.map(({ unit }) => unit))].sort((a, b) => many(b) - many(a) || (a < b ? -1 : 1));
    const same = its.filter(({ unit }) => unit === units.at(0));
    const layered = same.filter(({ layer }) => layer !== null);
    const drawn = layered.length > 0 ? layered : same;
    const beside = (layered.length > 0 ? same.filter(({ layer }) => layer === null) : []).map(({ file }) => file);
    const apart = its.filter(({ unit }) => unit !== units.at(0)).map(({ file }) => file);
    return { sample, points: drawn, apart, beside, profile: profileOf(drawn) };
  });
}

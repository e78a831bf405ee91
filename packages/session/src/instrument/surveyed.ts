import { byCodeUnits } from '../input/code-units.ts';

/** A spectrum at a glance: which setting of the instrument it belongs to, and how much it can say about it. */
export interface Surveyed {
  readonly name: string;
  readonly sha256: string;
  /** Axis, channels and detector of the header, as text. */
  readonly setting: string;
  readonly totalCounts: number;
  /** Counts per second of live time. */
  readonly rate: number | null;
  /** Minutes since 1970; null when not stated. */
  readonly takenAt: number | null;
}

/** Spectra by setting, settings and names in code-unit order, so that the order of the files never matters. */
export function bySetting(surveyed: readonly Surveyed[]): Map<string, Surveyed[]> {
  const groups = new Map<string, Surveyed[]>();
  for (const spectrum of [...surveyed].sort((a, b) => byCodeUnits(a.name, b.name))) {
    const group = groups.get(spectrum.setting);
    if (group) group.push(spectrum);
    else groups.set(spectrum.setting, [spectrum]);
  }
  return new Map([...groups].sort(([a], [b]) => byCodeUnits(a, b)));
}

export function spanOf(members: readonly Surveyed[]): [first: number, last: number] {
  let [first, last] = [Infinity, -Infinity];
  for (const { takenAt } of members) {
    if (takenAt === null) continue;
    first = Math.min(first, takenAt);
    last = Math.max(last, takenAt);
  }
  return last >= first ? [first, last] : [0, 0];
}

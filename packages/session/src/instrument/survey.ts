import type { EnergyAxis } from '@limner/core';
import { join } from 'node:path';
import { readBytes, spectrumFrom } from '../input/load.ts';
import { sha256Of } from '../reading/read-one.ts';
import { takenAt } from '../input/taken-at.ts';

/** A file to be looked at before it is read; plain data. */
export interface SurveyTask {
  readonly kind: 'survey';
  readonly folder: string;
  readonly name: string;
  readonly axis: EnergyAxis | null;
}

/** What a glance at a spectrum tells: which setting of the instrument it belongs to, and how much it can say of it. */
export interface Surveyed {
  readonly name: string;
  readonly sha256: string;
  /** Axis, channels and detector as the header has them, as text. */
  readonly setting: string;
  readonly totalCounts: number;
  /** Counts per second of live time. */
  readonly rate: number | null;
  /** Minutes since 1970; null when not told. */
  readonly takenAt: number | null;
}

/** Null for a file that gives no spectrum: reading it will say why. */
export async function surveyOne({ folder, name, axis }: SurveyTask): Promise<Surveyed | null> {
  try {
    const bytes = await readBytes(join(folder, name), name);
    const spectrum = spectrumFrom(bytes, { name, ...(axis && { axis }) }, name);
    const totalCounts = spectrum.counts.reduce((sum, value) => sum + value, 0);
    const { offsetEv, gainEv } = spectrum.axis;
    const live = spectrum.liveTimeS;
    return {
      name,
      sha256: sha256Of(bytes),
      setting: [
        `${gainEv} eV per channel from ${offsetEv} eV`,
        `${spectrum.counts.length} channels`,
        spectrum.detector.type,
      ]
        .filter(Boolean)
        .join(', '),
      totalCounts,
      rate: live !== null && live > 0 ? totalCounts / live : null,
      takenAt: takenAt(spectrum),
    };
  } catch {
    return null;
  }
}

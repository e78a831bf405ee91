import { type EnergyAxis, settingName } from '@limner/core';
import { spectrumFrom } from '../input/load.ts';
import { sha256Of } from '../input/sha256.ts';
import { takenAt } from '../input/taken-at.ts';
import { readBytesWithin } from '../input/within.ts';
import type { Surveyed } from '../instrument/surveyed.ts';

/** A file to look at before it is read; plain data. */
export interface SurveyJob {
  readonly kind: 'survey';
  readonly folder: string;
  readonly name: string;
  readonly axis: EnergyAxis | null;
}

/** Null for a file that gives no spectrum; the reading that follows says why. */
export async function surveyOne({ folder, name, axis }: SurveyJob): Promise<Surveyed | null> {
  try {
    const bytes = await readBytesWithin(folder, name);
    const spectrum = spectrumFrom(bytes, { name, ...(axis && { axis }) }, name);
    const totalCounts = spectrum.counts.reduce((sum, value) => sum + value, 0);
    const live = spectrum.liveTimeS;
    return {
      name,
      sha256: sha256Of(bytes),
      setting: settingName(spectrum.axis, spectrum.counts.length, spectrum.detector.type),
      totalCounts,
      rate: live !== null && live > 0 ? totalCounts / live : null,
      takenAt: takenAt(spectrum),
    };
  } catch {
    return null;
  }
}

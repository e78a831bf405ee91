import type { Sheet } from '../input/sheet.ts';
import { Calibration, type EstimateReading } from '../instrument/calibration.ts';
import type { Surveyed } from '../instrument/surveyed.ts';
import { worthAsking } from '../instrument/worth-asking.ts';
import type { EstimateJob } from './estimate-one.ts';
import { expectKept } from './not-kept.ts';
import type { SurveyJob } from './survey-one.ts';
import type { Workers } from './workers.ts';

export interface CalibrateOptions extends Omit<EstimateJob, 'kind' | 'name' | 'known' | Measured> {
  readonly sheet: Sheet | null;
  /** How each spectrum was measured. */
  readonly measured: (name: string) => Pick<EstimateJob, Measured>;
  /** Folder of the results, for errors. */
  readonly out: string;
}

type Measured = 'options' | 'axis' | 'stated';

/**
 * Calibrates the instrument of a session: surveys every spectrum, reads those that say most about it, and pools what they say.
 * @param onAsked called with the number of spectra asked, before the first @param onStep called after each, and whether it was worked out now
 * @throws OutputError if what was learned cannot be kept
 */
export async function calibrated(
  workers: Workers,
  names: readonly string[],
  { sheet, measured, out, ...shared }: CalibrateOptions,
  onAsked: (asked: number) => void,
  onStep: (worked: boolean) => void,
): Promise<Calibration> {
  const { folder } = shared;
  const surveyed: Surveyed[] = [];
  for await (const one of workers.all(names, (name): SurveyJob => ({
    kind: 'survey',
    folder,
    name,
    axis: measured(name).axis,
  }))) {
    if (one) surveyed.push(one);
  }
  const known = (name: string): string | null => sheet?.placeOf(name)?.known || null;
  // The same bytes twice say nothing more.
  const firsts = [...new Map([...surveyed].reverse().map((one) => [one.sha256, one])).values()].reverse();
  const asked = worthAsking(firsts, (name) => known(name) !== null);
  onAsked(asked.length);
  const readings = new Map<string, EstimateReading>();
  const jobOf = (name: string): EstimateJob => ({
    ...shared,
    ...measured(name),
    kind: 'estimate',
    name,
    known: known(name),
  });
  const estimates = workers.all(
    asked.map(({ name }) => name),
    jobOf,
  );
  for await (const estimated of estimates) {
    const { name, kept, reading } = expectKept(out, estimated);
    if (reading) readings.set(name, reading);
    onStep(!kept);
  }
  return new Calibration(surveyed, readings);
}

import { Calibration, worthAsking } from './calibration.ts';
import type { EstimateReading, EstimateTask } from './estimate-one.ts';
import { cannotWrite } from '../results/output.ts';
import type { Readers } from '../reading/readers.ts';
import type { Sheet } from '../input/sheet.ts';
import type { Surveyed, SurveyTask } from './survey.ts';

export interface CalibrateOptions extends Omit<EstimateTask, 'kind' | 'name' | 'known'> {
  readonly sheet: Sheet | null;
  /** Folder of the results, for errors. */
  readonly out: string;
}

/**
 * Learns the instrument of a session: looks at every spectrum, asks those that can tell, and pools what they say.
 * @param onAsked told with the number of spectra asked, before the first and after each
 * @throws OutputError if what was learned cannot be kept
 */
export async function calibrated(
  readers: Readers,
  names: readonly string[],
  { sheet, out, ...shared }: CalibrateOptions,
  onAsked: (asked: number) => void,
): Promise<Calibration> {
  const { folder, axis } = shared;
  const surveyed: Surveyed[] = [];
  for await (const one of readers.all(names, (name): SurveyTask => ({ kind: 'survey', folder, name, axis }))) {
    if (one) surveyed.push(one);
  }
  const known = (name: string): string | null => sheet?.placeOf(name)?.known || null;
  const asked = worthAsking(surveyed, (name) => known(name) !== null);
  onAsked(asked.length);
  const readings = new Map<string, EstimateReading>();
  const jobOf = (name: string): EstimateTask => ({ ...shared, kind: 'estimate', name, known: known(name) });
  for await (const estimated of readers.all(
    asked.map(({ name }) => name),
    jobOf,
  )) {
    if (estimated.kind === 'not-kept') throw cannotWrite(out, Object.assign(new Error(estimated.message), estimated));
    if (estimated.reading) readings.set(estimated.name, estimated.reading);
    onAsked(asked.length);
  }
  return new Calibration(surveyed, readings);
}

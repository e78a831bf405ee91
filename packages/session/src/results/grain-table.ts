import { type Cell, csv } from '../input/csv.ts';
import type { Place } from '../input/sheet.ts';
import type { GrainFindings } from '../summary/findings.ts';

export const GRAIN_COLUMNS = [
  'file',
  'sample',
  'layer',
  'particle',
  'present',
  'open',
  'headline',
  'alike',
  'earliest_date',
  'dated_by',
  'questions',
  'note',
  'link',
] as const;
export const GRAIN_HEADING = csv([[...GRAIN_COLUMNS]]);

/** The row of grains.csv for one spectrum. @param link to its section in the report */
export function grainRow(file: string, place: Place | null, found: GrainFindings, link: string): string {
  const { present, open, best, dating, questions } = found;
  const cells: Cell[] = [
    file,
    place?.sample ?? null,
    place?.layer ?? null,
    place?.particle ?? null,
    present.join(' '),
    open.join(' '),
    best?.name ?? null,
    best?.alike ?? null,
    dating?.year ?? null,
    dating?.symbol ?? null,
    questions.join(' '),
    place?.note ?? null,
    link,
  ];
  return csv([cells]);
}

import { type Note, notesInBrief } from '@limner/core';
import { type Cell, csv } from '../input/csv.ts';
import type { Place } from '../input/sheet.ts';
import { materialName } from '../page/notes-section.ts';
import type { Summarised } from './derive.ts';

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
  'judged',
  'title',
  'beam_kev',
  'total_counts',
  'unexplained_peaks',
  'warnings',
  'sha256',
  'copy_of',
  'link',
] as const;
export const GRAIN_HEADING = csv([[...GRAIN_COLUMNS]]);

/** A spectrum as its row of grains.csv tells it. */
export interface GrainLine {
  readonly file: string;
  readonly sha256: string;
  readonly place: Place | null;
  readonly summary: Summarised;
  readonly notes: readonly Note[];
  /** The file with the same bytes that is counted; null where this one is. */
  readonly copyOf: string | null;
  /** To its section in the report. */
  readonly link: string;
}

/** The row of grains.csv for one spectrum. */
export function grainRow({ file, sha256, place, summary, notes, copyOf, link }: GrainLine): string {
  const { title, beamKev, totalCounts, unexplained, warnings } = summary;
  const { present, open, best, dating, questions } = summary.found;
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
    notesInBrief(notes, materialName) || null,
    title,
    beamKev,
    totalCounts,
    unexplained,
    warnings.join(' '),
    sha256,
    copyOf,
    link,
  ];
  return csv([cells]);
}

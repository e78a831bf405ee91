import { compositionIn, type GrainComposition, type LimnerRecord } from '@limner/core';
import { positionIn } from '../input/position.ts';
import { anchorOf, reportRow, reportSection } from '../page/reading-section.ts';
import { findingsIn, type GrainFindings } from '../summary/findings.ts';
import { amountsIn, type Point } from '../summary/point.ts';
import { elementRows, pigmentRows, type Placed } from './tables.ts';

/** All that the output files say of one spectrum, and what its summary needs. Plain data. */
export interface Derived {
  readonly tables: TableText;
  readonly report: ReportText;
  readonly summary: Summarised;
}

/** Lines ready to be appended to the files of these names. */
export interface TableText {
  readonly records: string;
  readonly elements: string;
  readonly pigments: string;
}

export interface ReportText {
  /** Its row in the table of all spectra, and its section. */
  readonly row: string;
  readonly section: string;
  readonly anchor: string;
  readonly cautions: readonly string[];
}

/** What the summaries of a session need of one record. */
export interface Summarised {
  readonly found: GrainFindings;
  readonly title: string;
  readonly totalCounts: number;
  readonly beamKev: number;
  /** Peaks that nothing explains. */
  readonly unexplained: number;
  /** Their codes. */
  readonly warnings: readonly string[];
  readonly composition: GrainComposition;
  /** Null where the header does not say where it was taken. */
  readonly point: Omit<Point, 'file' | 'sample' | 'layer' | 'best'> | null;
}

/** What decides the tables besides the record. */
export interface HowTold {
  readonly place: Placed | null;
  /** Materials that a spectrum rules out have rows too. */
  readonly ruledOut: boolean;
}

export function derive(record: LimnerRecord, { place, ruledOut }: HowTold): Derived {
  return {
    tables: {
      records: `${JSON.stringify(record)}\n`,
      elements: elementRows(record, place),
      pigments: pigmentRows(record, ruledOut),
    },
    report: {
      row: reportRow(record),
      section: reportSection(record),
      anchor: anchorOf(record),
      cautions: record.cautions,
    },
    summary: summarise(record),
  };
}

function summarise(record: LimnerRecord): Summarised {
  const position = positionIn(record.header);
  return {
    found: findingsIn(record),
    title: record.source.title,
    totalCounts: record.conditions.totalCounts,
    unexplained: record.peaks.filter(({ explainedBy }) => explainedBy.length === 0).length,
    warnings: record.warnings.map(({ code }) => code),
    beamKev: record.conditions.beamKev.value,
    composition: compositionIn(record.elements),
    point: position && { ...position, amounts: amountsIn(record) },
  };
}

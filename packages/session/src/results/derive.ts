import { compositionIn, type GrainComposition, grainSteps, type GrainStep, type LimnerRecord } from '@limner/core';
import { positionIn } from '../input/position.ts';
import { dayTaken, headerValue } from '../input/taken-at.ts';
import { anchorOf, reportRow, reportSection } from '../page/reading-section.ts';
import { SMALL, sketchFigure } from '../page/sketch-figure.ts';
import { findingsIn, type GrainFindings } from '../summary/findings.ts';
import { amountsIn, type Point } from '../summary/point.ts';
import { coarser, peakNamesIn, type Sketch } from '../summary/sketch.ts';
import { curvesLine } from './curves.ts';
import { jsonBytes } from './json-bytes.ts';
import { elementRows, pigmentRows, type Placed } from './tables.ts';

/** All that the output files say of one spectrum, and what its summary needs. Plain data. */
export interface Derived {
  readonly tables: TableText;
  readonly report: ReportText;
  readonly summary: Summarised;
}

/** Lines ready to be appended to the files of these names; those of the records, by far the longest, as bytes. */
export interface TableText {
  readonly records: Uint8Array;
  readonly curves: string;
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
  /** What would settle what it leaves open. */
  readonly steps: readonly GrainStep[];
  /** Its spectrum, small, as HTML. */
  readonly picture: string;
  /** Day on which it was taken, YYYY-MM-DD, and who measured; '' where the header does not say. */
  readonly day: string;
  readonly owner: string;
  /** Null where the header does not say where it was taken. */
  readonly point: Omit<Point, 'file' | 'sample' | 'layer' | 'best'> | null;
}

/** What decides the tables besides the record. */
export interface HowTold {
  readonly place: Placed | null;
  /** Materials that a spectrum rules out have rows too. */
  readonly ruledOut: boolean;
}

const LINE_END = Buffer.from('\n');

/** @param json of the record, where it is known */
export function derive(
  record: LimnerRecord,
  sketch: Sketch,
  { place, ruledOut }: HowTold,
  json = jsonBytes(record),
): Derived {
  return {
    tables: {
      records: Buffer.concat([json, LINE_END]),
      curves: curvesLine(record.source.name, sketch),
      elements: elementRows(record, place),
      pigments: pigmentRows(record, ruledOut),
    },
    report: {
      row: reportRow(record),
      section: reportSection(record, sketch),
      anchor: anchorOf(record),
      cautions: record.cautions,
    },
    summary: summarise(record, sketch),
  };
}

function summarise(record: LimnerRecord, sketch: Sketch): Summarised {
  const position = positionIn(record.header);
  return {
    found: findingsIn(record),
    title: record.source.title,
    totalCounts: record.conditions.totalCounts,
    unexplained: record.peaks.filter(({ explainedBy }) => explainedBy.length === 0).length,
    warnings: record.warnings.map(({ code }) => code),
    beamKev: record.conditions.beamKev.value,
    composition: compositionIn(record.elements),
    steps: grainSteps(record),
    picture: sketchFigure(coarser(sketch), peakNamesIn(record), SMALL, record.source.name),
    day: dayTaken(record),
    owner: headerValue(record, 'OWNER'),
    point: position && { ...position, amounts: amountsIn(record) },
  };
}

import {
  type Figure,
  figureProvenance,
  type LimnerRecord,
  overviewRow,
  reportTree,
  SKETCH_CAPTION,
} from '@limner/core';
import { peakNamesIn, type Sketch } from '../summary/sketch.ts';
import { cell, escape, row } from './report-parts.ts';
import { LARGE, sketchFigure } from './sketch-figure.ts';
import { treeHtml } from './tree-html.ts';

/** Of a hash, beside a name: two files of a session hardly share them, and the manifest has them whole. */
const HASH_DIGITS = 12;

/** A row of the table of all spectra, its first cell a link to the section. */
export function reportRow(record: LimnerRecord): string {
  const [file, ...rest] = overviewRow(record).cells.map(({ text }) => text);
  const hash = `<td class="hash">${record.source.sha256.slice(0, HASH_DIGITS)}</td>`;
  const name = `<td><a href="#${anchorOf(record)}">${escape(file ?? '')}</a></td>`;
  return row([name, ...rest.map((text) => cell(text)), hash]);
}

/** The section on one spectrum, which prints as a page. */
export function reportSection(record: LimnerRecord, sketch: Sketch): string {
  const anchor = anchorOf(record);
  const { title, nodes } = reportTree(record);
  const drawn = ({ figure, caption }: Figure): string =>
    figure === 'spectrum'
      ? `<figure>${sketchFigure(sketch, peakNamesIn(record), LARGE, caption)}<figcaption class="quiet">${escape(SKETCH_CAPTION)}</figcaption></figure>`
      : '';
  const from = `<p class="quiet">${escape(figureProvenance(record).at(-1)!)}</p>`;
  return `<section class="spectrum" id="${anchor}"><h2>${escape(title)}</h2>\n${treeHtml(nodes, anchor, { drawn })}\n${from}</section>`;
}

/** Anchors follow from names, so that a spectrum's stays the same whatever else is in the session. */
export const anchorOf = ({ source }: LimnerRecord): string =>
  `s-${encodeURIComponent(source.name).replaceAll('%', '_')}`;

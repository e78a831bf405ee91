import { type LimnerRecord, overviewRow, reportTree } from '@limner/core';
import { cell, escape, row } from './report-parts.ts';
import { treeHtml } from './tree-html.ts';

/** A row of the table of all spectra, its first cell a link to the section. */
export function reportRow(record: LimnerRecord): string {
  const [file, ...rest] = overviewRow(record).cells.map(({ text }) => text);
  return row([`<td><a href="#${anchorOf(record)}">${escape(file ?? '')}</a></td>`, ...rest.map((text) => cell(text))]);
}

/** The section on one spectrum. */
export function reportSection(record: LimnerRecord): string {
  const anchor = anchorOf(record);
  const { title, nodes } = reportTree(record);
  return `<section class="spectrum" id="${anchor}"><h2>${escape(title)}</h2>\n${treeHtml(nodes, anchor)}\n</section>`;
}

/** Anchors follow from names, so that a spectrum's stays the same whatever else is in the session. */
export const anchorOf = ({ source }: LimnerRecord): string =>
  `s-${encodeURIComponent(source.name).replaceAll('%', '_')}`;

import type { Failure } from '../input/failure.ts';
import {
  OVERVIEW_COLUMNS,
  REPORT_WORDS,
  type ReportHead,
  reportHeadTable,
  reportTitle,
  type SampleInShort,
  samplesInShort,
} from '@limner/core';
import { POSITIONS_STYLE } from './positions-section.ts';
import { escape } from './report-parts.ts';
import { endHtml } from './report-sections.ts';
import { SKETCH_STYLE } from './sketch-figure.ts';
import { STRATIGRAPHY_STYLE } from './stratigraphy.ts';
import { treeHtml, TREE_STYLE } from './tree-html.ts';

/** Every report begins with this, so that an earlier one can be recognised. */
export const REPORT_BEGINS = '<!doctype html>\n<!-- limner tag: report -->\n';

const STYLE = `
body { font: 16px/1.5 Georgia, 'Times New Roman', serif; color: #1d1d1b; background: #fdfcf9; max-width: 62rem; margin: 2rem auto; padding: 0 1rem; }
h1, h2, h3, h4 { font-weight: normal; line-height: 1.2; break-after: avoid-page; }
h4 { font-style: italic; margin-bottom: 0.3rem; }
h3 { font-size: 1.05rem; margin-bottom: 0.3rem; }
section { border-top: 1px solid #8a8578; margin-top: 2.5rem; }
table { border-collapse: collapse; width: 100%; margin: 1rem 0; font-size: 0.9rem; }
th, td { text-align: left; vertical-align: top; padding: 0.2rem 0.8rem 0.2rem 0; border-bottom: 1px solid #d9d4c7; }
.number { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.wide { overflow-x: auto; }
body { overflow-wrap: anywhere; }
th, td { overflow-wrap: break-word; }
.number { overflow-wrap: normal; }
a { color: #35507a; }
.quiet { color: #5b574d; font-size: 0.9rem; }
${STRATIGRAPHY_STYLE}
${POSITIONS_STYLE}
${SKETCH_STYLE}
${TREE_STYLE}
#head-report-head td { overflow-wrap: anywhere; }
.sample td:nth-child(4) { min-width: 7.5rem; }
.sample td:nth-child(6), .sample td:last-child { min-width: 10rem; }
.hash { font-variant-numeric: tabular-nums; }
figure { margin: 1rem 0; }
@page { margin: 14mm; }
@media print {
  body { font-size: 10pt; margin: 0; max-width: none; background: none; }
  section { border-top: 0; margin-top: 0; }
  .sample, .sample + *, #session-positions, section.spectrum, .appendix { break-before: page; }
  tr, figure, svg, .key { break-inside: avoid; }
  thead { break-after: avoid; }
  a { color: inherit; }
  details { display: none; }
  table, .layers, p, li { font-size: 8.5pt; line-height: 1.35; }
  p.lead { font-size: 11pt; }
  .quiet { font-size: 8pt; }
  table { margin: 0.5rem 0; }
  th, td { padding: 0.12rem 0.6rem 0.12rem 0; }
  .wide { overflow: visible; }
  .sample td:nth-child(n) { min-width: 0; }
  h1 { margin-top: 0; }
  h2, h3 { margin: 0.5rem 0 0.15rem; }
  ul { margin: 0.4rem 0; }
  figure { margin: 0.5rem 0; }
  .sketches { grid-template-columns: repeat(3, 1fr); gap: 0.3rem 0.8rem; margin: 0.5rem 0; break-inside: avoid; }
  .sketches figcaption { font-size: 7.5pt; }
  div:has(> svg.graph) { columns: 2; column-gap: 8mm; break-inside: avoid; }
  div:has(> svg.graph) > h3 { column-span: all; }
  section.spectrum { line-height: 1.25; }
  section.spectrum :is(th, td) { padding-top: 0.06rem; padding-bottom: 0.06rem; line-height: 1.25; }
  section.spectrum p.lead { margin: 0.4rem 0; line-height: 1.3; }
  section.spectrum figure { margin: 0.2rem 0; }
  section.spectrum ul { margin: 0.2rem 0; }
}
`.trim();

export interface ReportContent {
  readonly head: ReportHead;
  readonly spectra: number;
  /** The session in a few sentences. */
  readonly summary: string;
  readonly inShort: readonly SampleInShort[];
  /** Finished sections, as HTML; '' where there is nothing to say. */
  readonly samples: string;
  readonly kinds: string;
  readonly positions: string;
  readonly instrument: string;
  readonly failures: readonly Failure[];
  readonly cautions: readonly string[];
}

/** The start of a page, up to its heading. */
export const head = (title: string): string =>
  [
    `<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">`,
    `<link rel="icon" href="data:,"><title>${title}</title><style>${STYLE}</style></head><body>`,
  ].join('\n');

/** The page up to the rows of the table of all spectra: first what a colleague needs to know, then the samples. */
export function reportHead(content: ReportContent): string {
  const { head: read, spectra, summary, inShort, samples, kinds, positions, failures, cautions } = content;
  const title = reportTitle(spectra);
  const table = reportHeadTable(read);
  const titles = [...OVERVIEW_COLUMNS.map((column) => column.title), REPORT_WORDS.hash];
  const headings = titles.map((text) => `<th scope="col">${escape(text)}</th>`);
  return [
    REPORT_BEGINS,
    head(title),
    `<h1>${title}</h1>`,
    `<p class="lead">${escape(summary)}</p>`,
    `<p class="quiet">${REPORT_WORDS.lead}</p>`,
    treeHtml([table, samplesInShort(inShort)], 'head', { level: 2 }),
    endHtml(failures, cautions),
    samples,
    kinds,
    positions,
    samples || kinds || positions ? `<h2 class="appendix">${REPORT_WORDS.appendix}</h2>` : '',
    `<div class="wide"><table><thead><tr>${headings.join('')}</tr></thead><tbody>\n`,
  ].join('\n');
}

/** What follows the rows: the instrument. */
export const reportMiddle = ({ instrument }: ReportContent): string =>
  ['</tbody></table></div>', instrument, ''].join('\n');

export const REPORT_END = '</body></html>\n';

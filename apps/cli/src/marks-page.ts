import type { MarkedLine } from '@limner/core';

export interface MarkedSheet {
  readonly name: string;
  readonly lines: readonly MarkedLine[];
  readonly points: number;
  readonly most: number;
}

const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);

/** Marks as a page to print: the class, then a sheet of paper per student. */
export function marksPage(sheets: readonly MarkedSheet[]): string {
  const rows = sheets.map(({ name, points, most }) => row([name, String(points), String(most)]));
  return [
    '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Marks</title>',
    `<style>${STYLE}</style></head><body>`,
    '<p><strong>Simulated spectra: no evidence about any object.</strong> Marked against what the counts can decide.</p>',
    table('The class', ['sheet', 'points', 'of'], rows),
    ...sheets.map(sheetPart),
    '</body></html>\n',
  ].join('\n');
}

function sheetPart({ name, lines, points, most }: MarkedSheet): string {
  const rows = lines.map((line) => row([String(line.exercise), line.about, line.said, String(line.points), line.why]));
  return `<section>${table(`${name}: ${points} of ${most}`, ['exercise', 'about', 'answer', 'points', 'why'], rows)}</section>`;
}

const row = (cells: readonly string[]): string =>
  `<tr>${cells.map((cell) => `<td>${escaped(cell)}</td>`).join('')}</tr>`;

const table = (caption: string, heads: readonly string[], rows: readonly string[]): string =>
  `<table><caption>${escaped(caption)}</caption><thead><tr>${heads.map((head) => `<th scope="col">${escaped(head)}</th>`).join('')}</tr></thead><tbody>${rows.join('')}</tbody></table>`;

const STYLE =
  'body{font:16px/1.45 Georgia,serif;max-width:60rem;margin:1rem auto;padding:0 1rem}table{border-collapse:collapse;width:100%}' +
  'caption{text-align:left;font-weight:bold;margin-top:1rem}th,td{text-align:left;vertical-align:top;border-bottom:1px solid #999;' +
  'padding:.2rem .8rem .2rem 0}@media print{section{break-before:page}}';

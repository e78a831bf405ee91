import {
  bestFitting,
  elementName,
  type ElementFinding,
  findingsWith,
  type LimnerRecord,
  measured,
  probabilityText,
  reasonSentence,
  summary,
} from '@limner/core';
import type { Failure } from './tables.ts';

/** Every report begins so; by it a report of ours is known again. */
export const REPORT_BEGINS = '<!doctype html>\n<!-- limner tag: report -->\n';
const MOST_ALLOWED = 6;

const STYLE = `
body { font: 16px/1.5 Georgia, 'Times New Roman', serif; color: #1d1d1b; background: #fdfcf9; max-width: 62rem; margin: 2rem auto; padding: 0 1rem; }
h1, h2, h3 { font-weight: normal; line-height: 1.2; }
h3 { font-size: 1.05rem; margin-bottom: 0.3rem; }
section { border-top: 1px solid #8a8578; margin-top: 2.5rem; break-inside: avoid-page; }
table { border-collapse: collapse; width: 100%; margin: 1rem 0; font-size: 0.9rem; }
th, td { text-align: left; vertical-align: top; padding: 0.2rem 0.8rem 0.2rem 0; border-bottom: 1px solid #d9d4c7; }
td.number { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.wide { overflow-x: auto; }
body { overflow-wrap: anywhere; }
th, td { overflow-wrap: break-word; }
td.number { overflow-wrap: normal; }
a { color: #35507a; }
.quiet { color: #5b574d; font-size: 0.9rem; }
@media print { body { font-size: 10pt; margin: 0; max-width: none; background: none; } a { color: inherit; } }
`.trim();

/** One self-contained page over all records of a folder: what was read in a table, then a section for each spectrum. */
export class ReportPage {
  readonly #rows: string[] = [];
  readonly #sections: string[] = [];
  readonly #cautions = new Set<string>();

  add(record: LimnerRecord): void {
    const anchor = `s${this.#rows.length + 1}`;
    this.#rows.push(overviewRow(record, anchor));
    this.#sections.push(section(record, anchor));
    for (const caution of record.cautions) this.#cautions.add(caution);
  }

  /** The finished page. */
  text(failures: readonly Failure[]): string {
    const count = this.#rows.length;
    const title = `Readings of ${count} ${count === 1 ? 'spectrum' : 'spectra'}`;
    return [
      REPORT_BEGINS,
      `<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">`,
      `<link rel="icon" href="data:,"><title>${title}</title><style>${STYLE}</style></head><body>`,
      `<h1>${title}</h1>`,
      `<p class="quiet">Elements suggest a material; they never prove one. Mass fractions are standardless estimates.</p>`,
      table(['File', 'Required by the counts', 'Open', 'Fits best'], this.#rows),
      listOf(
        'Not read',
        failures.map(({ file, reason }) => `${file}: ${reason}`),
      ),
      listOf('Cautions', [...this.#cautions]),
      ...this.#sections,
      '</body></html>\n',
    ].join('\n');
  }
}

function overviewRow(record: LimnerRecord, anchor: string): string {
  const symbols = (verdict: ElementFinding['verdict']): string =>
    findingsWith(record, verdict)
      .map(({ symbol }) => symbol)
      .join(' ');
  const best = bestFitting(record);
  const others = best !== null && best.alike.length > 0 ? `, or ${best.alike.length} that the same elements allow` : '';
  return row([
    `<td><a href="#${anchor}">${escape(record.source.name)}</a></td>`,
    cell(symbols('present')),
    cell(symbols('open')),
    cell(best === null ? '' : best.name + others),
  ]);
}

function section(record: LimnerRecord, anchor: string): string {
  const { name, title, sha256 } = record.source;
  const shown = [...findingsWith(record, 'present'), ...findingsWith(record, 'open')];
  const allowed = record.pigments.filter(({ standing }) => standing === 'allowed').slice(0, MOST_ALLOWED);
  return [
    `<section id="${anchor}"><h2>${escape(title && title !== name ? `${name}: ${title}` : name)}</h2>`,
    `<p>${escape(summary(record))}</p>`,
    table(['Element', 'Verdict', 'Probability', 'Counts', '% by mass', 'Why'], shown.map(elementRow)),
    listOf(
      'Materials that the elements allow',
      allowed.map(({ name, reason }) => `${name}. ${reason}`),
    ),
    listOf(
      'To bear in mind',
      record.warnings.map(({ text }) => text),
    ),
    `<p class="quiet">SHA-256 of the file: ${escape(sha256)}</p></section>`,
  ].join('\n');
}

function elementRow(finding: ElementFinding): string {
  const { symbol, z, verdict, probability, counts, massFraction } = finding;
  return row([
    cell(`${symbol}, ${elementName(z)}`),
    cell(verdict),
    cell(probabilityText(probability), 'number'),
    cell(measured(counts), 'number'),
    cell(massFraction ? measured(massFraction, 100) : '', 'number'),
    cell(reasonSentence(finding)),
  ]);
}

function table(headings: readonly string[], rows: readonly string[]): string {
  if (rows.length === 0) return '';
  const head = headings.map((heading) => `<th scope="col">${escape(heading)}</th>`).join('');
  return `<div class="wide"><table><thead><tr>${head}</tr></thead><tbody>\n${rows.join('\n')}\n</tbody></table></div>`;
}

function listOf(heading: string, items: readonly string[]): string {
  if (items.length === 0) return '';
  return `<h3>${escape(heading)}</h3><ul>${items.map((item) => `<li>${escape(item)}</li>`).join('')}</ul>`;
}

const row = (cells: readonly string[]): string => `<tr>${cells.join('')}</tr>`;
const cell = (text: string, kind?: 'number'): string => `<td${kind ? ` class="${kind}"` : ''}>${escape(text)}</td>`;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in HTML, in an element or an attribute. */
function escape(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character);
}

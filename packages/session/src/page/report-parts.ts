import {
  bestFitting,
  couldHide,
  elementName,
  type ElementFinding,
  findingsWith,
  type LimnerRecord,
  measured,
  probabilityText,
  reasonSentence,
  summary,
} from '@limner/core';

const MOST_ALLOWED = 6;

/** A row of the table of all spectra. */
export function reportRow(record: LimnerRecord): string {
  const anchor = anchorOf(record);
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

/** The section on one spectrum. */
export function reportSection(record: LimnerRecord): string {
  const anchor = anchorOf(record);
  const { name, title, sha256 } = record.source;
  const shown = [...findingsWith(record, 'present'), ...findingsWith(record, 'open')];
  const allowed = record.pigments.filter(({ standing }) => standing === 'allowed').slice(0, MOST_ALLOWED);
  return [
    `<section id="${anchor}"><h2>${escape(title && title !== name ? `${name}: ${title}` : name)}</h2>`,
    `<p>${escape(summary(record))}</p>`,
    table(['Element', 'Verdict', 'Probability', 'Counts', '% by mass', 'Why'], shown.map(elementRow)),
    hiddenOf(record),
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

function hiddenOf(record: LimnerRecord): string {
  const text = couldHide(record);
  return text === '' ? '' : `<p>${escape(text)}</p>`;
}

/** Anchors follow from names, so that a spectrum's stays the same whatever else is in the session. */
const anchorOf = ({ source }: LimnerRecord): string => `s-${encodeURIComponent(source.name).replaceAll('%', '_')}`;

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

export function table(headings: readonly string[], rows: readonly string[]): string {
  if (rows.length === 0) return '';
  const head = headings.map((heading) => `<th scope="col">${escape(heading)}</th>`).join('');
  return `<div class="wide"><table><thead><tr>${head}</tr></thead><tbody>\n${rows.join('\n')}\n</tbody></table></div>`;
}

export function listOf(heading: string, items: readonly string[]): string {
  if (items.length === 0) return '';
  return `<h3>${escape(heading)}</h3><ul>${items.map((item) => `<li>${escape(item)}</li>`).join('')}</ul>`;
}

export const row = (cells: readonly string[]): string => `<tr>${cells.join('')}</tr>`;
export const cell = (text: string, kind?: 'number'): string =>
  `<td${kind ? ` class="${kind}"` : ''}>${escape(text)}</td>`;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in HTML, in an element or an attribute. */
export function escape(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character);
}

import {
  couldHide,
  elementName,
  findingsWith,
  probabilityText,
  type ElementFinding,
  type Rival,
  type SettlingLine,
} from '@limner/core';
import { h } from '../dom.ts';
import { capital, counts, dashed, keV, lineName, listed, measured, percent, significant } from '../format.ts';
import { chooseThumbnails, drawThumbnail } from './thumbnail.ts';
import { ARTEFACT } from '../palette.ts';
import type { ReadingView } from '../reading.ts';

/** The mark beside each verdict's word, told apart by shape. */
const MARKS = { present: '●', open: '◐', 'not-seen': '○', blind: '–' } as const;
const WORDS = { present: 'present', open: 'open', 'not-seen': 'not seen', blind: 'blind' } as const;
const ORIGINS = {
  specimen: null,
  setting: 'likely from the mounting or the instrument',
  either: 'from the specimen or from the mounting',
} as const;

type ToggleMarks = (symbol: string) => Promise<void>;

/** One row per element that the spectrum speaks for, then what it does not show and cannot show, folded. */
export function claimsSection(
  reading: ReadingView,
  colours: ReadonlyMap<string, string>,
  toggle: ToggleMarks,
): HTMLElement {
  const spoken = [...findingsWith(reading.record, 'present'), ...findingsWith(reading.record, 'open')];
  return h(
    'section',
    { class: 'claims', 'aria-labelledby': 'claims' },
    h('h2', { id: 'claims' }, 'Elements'),
    h(
      'p',
      { class: 'lead-in' },
      'In the small pictures: measured counts (dots), the fit (red line), and the fit without the element (broken line). ' +
        'A picture without a base line does not begin at zero.',
    ),
    spoken.map((finding) => claimRow(finding, reading, colours.get(finding.symbol) ?? ARTEFACT, toggle)),
    hidden(couldHide(reading.record)),
    notSeen(findingsWith(reading.record, 'not-seen')),
    blind(findingsWith(reading.record, 'blind')),
  );
}

const verdict = (finding: ElementFinding): HTMLElement =>
  h(
    'p',
    { class: `verdict ${finding.verdict}` },
    h('span', { 'aria-hidden': 'true' }, MARKS[finding.verdict]),
    ` ${WORDS[finding.verdict]}`,
  );

function claimRow(finding: ElementFinding, reading: ReadingView, colour: string, toggle: ToggleMarks): HTMLElement {
  const name = elementName(finding.z);
  const id = `element-${finding.symbol}`;
  return h(
    'article',
    { class: `claim ${finding.verdict}`, 'aria-labelledby': id, 'data-symbol': finding.symbol },
    h(
      'header',
      {},
      h(
        'h3',
        { id },
        capital(name),
        ' ',
        h('span', { class: 'symbol', style: `border-color:${colour}` }, finding.symbol),
      ),
      verdict(finding),
      h('button', { type: 'button', class: 'quiet', onclick: () => void toggle(finding.symbol) }, `mark its lines`),
    ),
    h('div', { class: 'argument' }, h('p', { class: 'reason' }, finding.reason), originNote(finding), numbers(finding)),
    pictures(finding, reading, colour, name),
    rivals(finding),
  );
}

function originNote({ origin }: ElementFinding): HTMLElement | null {
  const text = ORIGINS[origin];
  return text ? h('p', { class: 'origin' }, `${capital(text)}.`) : null;
}

function numbers(finding: ElementFinding): HTMLElement {
  const { massFraction, limit } = finding;
  const rows: [string, string][] = [
    ['Counts', measured(finding.counts)],
    ['Probability', probabilityText(finding.probability)],
  ];
  if (massFraction) rows.push(['Mass fraction', `${measured(massFraction, 100)} %`]);
  if (limit) rows.push(['Detection limit', `${counts(limit.counts)} counts, ${percent(limit.massFraction)}`]);
  return h(
    'dl',
    { class: 'numbers' },
    rows.map(([term, value]) => h('div', {}, h('dt', {}, term), h('dd', {}, value))),
  );
}

function pictures(finding: ElementFinding, { curves }: ReadingView, colour: string, name: string): HTMLElement | null {
  const layer = curves.layers.find((one) => one.kind === 'element' && one.name === finding.symbol);
  const thumbnails = layer ? chooseThumbnails(finding.lines, layer, curves) : [];
  if (!layer || thumbnails.length === 0) return null;
  return h(
    'div',
    { class: 'thumbnails' },
    thumbnails.map((thumbnail) =>
      h(
        'figure',
        {},
        drawThumbnail(thumbnail, layer, curves, colour, name),
        h('figcaption', {}, `${lineName(thumbnail.line)}, ${keV(thumbnail.line.energyEv, 2)}`),
      ),
    ),
  );
}

function rivals(finding: ElementFinding): HTMLElement | null {
  if (finding.rivals.length === 0) return null;
  return h(
    'div',
    { class: 'rivals' },
    finding.rivals.map((rival) =>
      h('div', { class: 'rival' }, h('p', {}, rivalSentence(rival, finding)), settling(rival, finding)),
    ),
  );
}

/** More elements than this at once are no rival anyone would put forward. */
const MOST_IN_A_RIVAL = 3;

/** Settling lines in a table, the most telling first; the record has all. */
const MOST_SETTLING = 3;

const members = ({ kind, name }: Rival): string[] => (kind === 'artefact' ? [name] : name.split('+'));

function rivalSentence(rival: Rival, { symbol }: ElementFinding): string {
  const together = members(rival);
  const size = significant(Math.abs(rival.deltaC), 2);
  if (together.length > MOST_IN_A_RIVAL)
    return `Rival: none of a few elements; ${together.length} others together would still explain the counts worse, misfit +${size}.`;
  const who = `Rival: ${listed(together)}${rival.kind === 'artefact' ? ', an artefact' : ''}.`;
  if (Math.abs(rival.deltaC) < 1) return `${who} It explains the counts as well as ${symbol}.`;
  const how = rival.deltaC > 0 ? `worse, misfit +${size}` : `better, misfit −${size}`;
  return `${who} In place of ${symbol} it explains the counts ${how}.`;
}

function settling(rival: Rival, { symbol }: ElementFinding): HTMLElement | null {
  const together = members(rival);
  if (rival.settling.length === 0 || together.length > MOST_IN_A_RIVAL) return null;
  const cell = (text: string) => h('td', {}, text);
  const row = (line: SettlingLine) =>
    h(
      'tr',
      {},
      h('th', { scope: 'row' }, `${line.symbol} ${dashed(line.line)}, ${keV(line.energyEv, 2)}`),
      cell(counts(Math.max(0, line.expectedWith))),
      cell(counts(Math.max(0, line.expectedInstead))),
      cell(measured({ value: line.observed, sigma: line.sigma })),
    );
  const head = ['Settling line', `expected with ${symbol}`, `with ${together.join(' + ')}`, 'observed'];
  return h(
    'div',
    {
      class: 'scroll',
      tabindex: 0,
      role: 'group',
      'aria-label': `Lines that settle between ${symbol} and ${listed(together)}`,
    },
    h(
      'table',
      {},
      h(
        'thead',
        {},
        h(
          'tr',
          {},
          head.map((text) => h('th', { scope: 'col' }, text)),
        ),
      ),
      h('tbody', {}, rival.settling.slice(0, MOST_SETTLING).map(row)),
    ),
  );
}

const hidden = (text: string): HTMLElement | null => (text === '' ? null : h('p', { class: 'could-hide' }, text));

function notSeen(findings: readonly ElementFinding[]): HTMLElement | null {
  if (findings.length === 0) return null;
  const items = [...findings]
    .sort((a, b) => a.z - b.z)
    .map(({ symbol, z, limit }) =>
      h('li', { title: elementName(z) }, h('b', {}, symbol), limit ? ` below ${percent(limit.massFraction)}` : ''),
    );
  return h(
    'details',
    { class: 'folded', 'data-paper': true },
    h('summary', {}, `Not seen: ${findings.length} elements, with the mass fraction that would have been detected`),
    h('ul', { class: 'limits' }, items),
  );
}

function blind(findings: readonly ElementFinding[]): HTMLElement | null {
  if (findings.length === 0) return null;
  const items = [...findings]
    .sort((a, b) => a.z - b.z)
    .map(({ symbol, z, reason }) => h('li', {}, h('b', { title: elementName(z) }, symbol), ` ${reason}`));
  return h(
    'details',
    { class: 'folded', 'data-paper': true },
    h('summary', {}, `Blind: ${findings.length} elements that this spectrum cannot tell`),
    h('ul', { class: 'blind-list' }, items),
  );
}

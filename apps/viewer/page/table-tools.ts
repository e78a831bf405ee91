import { h } from './dom.ts';
import { save } from './download.ts';

/** A table as text: the heading first. */
export type Grid = readonly (readonly string[])[];

/** Copies a table, for a sheet or a text, or hands it over as CSV. @param gridOf all of it, cells that are folded or on another page too */
export function tableTools(name: string, gridOf: () => Grid): HTMLElement {
  const told = h('span', { role: 'status' });
  const copy = async (): Promise<void> => {
    const text = gridOf().map((row) => row.map(plain).join('\t'));
    told.textContent = await navigator.clipboard.writeText(text.join('\n')).then(
      () => 'copied',
      () => 'this browser does not allow copying here; save the CSV instead',
    );
  };
  const handOver = (): void => save(new Blob([csvOf(gridOf())], { type: 'text/csv' }), `${name}.csv`);
  const button = (text: string, label: string, act: () => void) =>
    h('button', { type: 'button', class: 'quiet', 'aria-label': `${label}: ${name}`, onclick: act }, text);
  return h(
    'p',
    { class: 'table-tools screen-only' },
    button('copy', 'Copy the table', () => void copy()),
    button('CSV', 'Save the table as CSV', handOver),
    told,
  );
}

/** Lines after RFC 4180. Text that a spreadsheet would take for a formula gets a quote in front; numbers stay numbers. */
export const csvOf = (grid: Grid): string =>
  grid.map((row) => `${row.map((text) => quoted(harmless(plain(text)))).join(',')}\r\n`).join('');

/** No-break spaces are for print. */
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, ' ').replace(/[\t\r\n]+/g, ' ');

const harmless = (text: string): string => (/^[=+\-@]/.test(text) && !isNumber(text) ? `'${text}` : text);

const isNumber = (text: string): boolean => /^[-+]?\d+(\.\d+)?$/.test(text);

const quoted = (text: string): string => (/[",]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

import { spectraListed } from '@limner/core';
import { h } from './dom.ts';
import type { Entry } from './entry.ts';

/** Spectra listed at most; in a session of thousands, those next to the one on show. */
const MOST = 100;

/** The list of spectra beside the reading; on a narrow page it folds into one line. A single spectrum needs no list. */
export function renderContents(
  nav: HTMLElement,
  entries: readonly Entry[],
  chosen: Entry | undefined,
  close: (entry: Entry) => void,
): void {
  const listed = nextTo(entries, chosen);
  const alike = sharedStart(listed.flatMap(({ title }) => (title ? [title] : [])));
  const link = (entry: Entry) =>
    h(
      'li',
      {},
      h(
        'a',
        { href: `#${encodeURIComponent(entry.id)}`, 'aria-current': entry === chosen ? 'page' : null },
        h('span', { class: 'entry-title' }, entry.title.slice(alike) || entry.name),
        entry.title && !entry.title.includes(stem(entry.name)) ? h('span', { class: 'entry-name' }, entry.name) : null,
        entry.error ? h('span', { class: 'entry-fault' }, 'cannot be read') : null,
      ),
      entry.opened ? closing(entry, close) : null,
    );
  nav.hidden = entries.length < 2 && !entries.some(({ opened }) => opened);
  const wasOpen = nav.querySelector('details')?.open ?? matchMedia('(min-width: 900px)').matches;
  nav.replaceChildren(
    h(
      'details',
      { open: wasOpen },
      h('summary', {}, spectraListed(listed.length, entries.length)),
      h('ol', {}, listed.map(link)),
    ),
  );
}

/** Those before and after the chosen one, and all that were opened in the page. */
function nextTo(entries: readonly Entry[], chosen: Entry | undefined): readonly Entry[] {
  if (entries.length <= MOST) return entries;
  const middle = chosen ? entries.indexOf(chosen) : 0;
  const first = Math.max(0, Math.min(middle - MOST / 2, entries.length - MOST));
  return entries.filter(({ opened }, i) => opened || (i >= first && i < first + MOST));
}

const closing = (entry: Entry, close: (entry: Entry) => void): HTMLElement =>
  h(
    'button',
    { type: 'button', class: 'quiet', 'aria-label': `Close ${entry.name}`, onclick: () => close(entry) },
    'close',
  );

/** Length of what all titles begin with, up to its last blank: it tells none of them apart. */
function sharedStart(titles: readonly string[]): number {
  const [first, ...rest] = titles;
  if (first === undefined || rest.length === 0) return 0;
  let length = 0;
  while (length < first.length && rest.every((title) => title[length] === first[length])) length++;
  return first.lastIndexOf(' ', length - 1) + 1;
}

const stem = (name: string): string => name.replace(/\.[^.]*$/, '');

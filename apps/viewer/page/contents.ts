import { h } from './dom.ts';
import type { Given } from './given.ts';
import type { ReadingView } from './reading.ts';

export interface Entry {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly error: string | null;
  /** Reads it, with what a person states of it. */
  readonly read: (given?: Given) => Promise<ReadingView>;
}

/** The list of spectra beside the reading; on a narrow page it folds into one line. A single spectrum needs no list. */
export function renderContents(nav: HTMLElement, entries: readonly Entry[], chosen: Entry | undefined): void {
  const link = (entry: Entry) =>
    h(
      'li',
      {},
      h(
        'a',
        { href: `#${encodeURIComponent(entry.id)}`, 'aria-current': entry === chosen ? 'page' : null },
        h('span', { class: 'entry-title' }, entry.title || entry.name),
        entry.title && !entry.title.includes(stem(entry.name)) ? h('span', { class: 'entry-name' }, entry.name) : null,
        entry.error ? h('span', { class: 'entry-fault' }, 'cannot be read') : null,
      ),
    );
  nav.hidden = entries.length < 2;
  const wasOpen = nav.querySelector('details')?.open ?? matchMedia('(min-width: 900px)').matches;
  nav.replaceChildren(
    h('details', { open: wasOpen }, h('summary', {}, `${entries.length} spectra`), h('ol', {}, entries.map(link))),
  );
}

const stem = (name: string): string => name.replace(/\.[^.]*$/, '');

import type { Pace } from '@limner/core';
import type { Overview } from '@limner/session';
import { h } from '../dom.ts';
import { fetchJson } from '../reader.ts';
import { keepInTab, keptInTab } from '../kept.ts';
import { type Choice, choiceIn } from './choice.ts';
import { shortName } from './matrix.ts';
import { OrderedSpectra } from './ordered.ts';
import { createSessionView, progressView } from './view.ts';

type State =
  | { readonly state: 'none' }
  | ({ readonly state: 'reading' } & Pace)
  | { readonly state: 'failed'; readonly message: string }
  | { readonly state: 'read'; readonly overview: Overview };

const POLL_MS = 700;
const KEPT_AS = 'limner choice';

/** The session behind the page: asks the server until it is read, and remembers what was asked of it. */
export class SessionPart {
  #read: { readonly overview: Overview; readonly spectra: OrderedSpectra } | null = null;
  #choice: Choice = choiceIn(keptInTab(KEPT_AS));

  /** Whether the viewer shows a session as a whole. */
  static async open(): Promise<SessionPart | null> {
    const state = await fetchJson<State>('api/session');
    if (state.state === 'none') return null;
    const part = new SessionPart();
    part.#take(state);
    return part;
  }

  get isRead(): boolean {
    return this.#read !== null;
  }

  /** Shows the session in a place, and its progress until it is read; ends early when `isStale` says so. */
  async show(place: HTMLElement, isStale: () => boolean): Promise<void> {
    while (this.#read === null) {
      const state = await fetchJson<State>('api/session');
      if (isStale()) return;
      if (state.state === 'failed') throw new Error(state.message);
      this.#take(state);
      if (state.state === 'none') return;
      if (state.state === 'read') break;
      place.replaceChildren(progressView(state));
      await new Promise((resolve) => setTimeout(resolve, POLL_MS));
      if (isStale()) return;
    }
    const { overview, spectra } = this.#read!;
    place.replaceChildren(createSessionView(overview, spectra, this.#choice, (choice) => this.#remember(choice)));
  }

  #take(state: State): void {
    if (state.state === 'read') this.#read = { ...state, spectra: new OrderedSpectra(state.overview.spectra) };
  }

  /** A reload shows the same. */
  #remember(choice: Choice): void {
    this.#choice = choice;
    keepInTab(KEPT_AS, JSON.stringify(choice));
  }

  /** The way back to the session, and for whoever came by the address of a spectrum too, on to the spectra before and after this one in the order last chosen. */
  async along(id: string): Promise<HTMLElement> {
    if (this.#read === null) this.#take(await fetchJson<State>('api/session'));
    const order = this.#read?.spectra.chosen(this.#choice) ?? [];
    const at = order.findIndex(({ file }) => file === id);
    const to = (i: number, text: string) => {
      const spectrum = at < 0 ? undefined : order[i];
      return spectrum
        ? h('a', { href: `#${encodeURIComponent(spectrum.file)}` }, `${text}: ${shortName(spectrum)}`)
        : '';
    };
    return h(
      'nav',
      { class: 'along', 'aria-label': 'The session' },
      h('a', { href: '#' }, 'The session'),
      to(at - 1, 'Previous'),
      to(at + 1, 'Next'),
    );
  }
}

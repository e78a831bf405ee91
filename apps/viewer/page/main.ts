import { type Changes, differencesTold, type LimnerRecord, NO_CHANGES } from '@limner/core';
import { createArticle, type Article } from './article.ts';
import { type Address, addressIn, hashOf, queryOf } from './changes/address.ts';
import { peaksForm } from './calibrate/peaks.ts';
import { lackingForm } from './changes/forms.ts';
import { type Arguing, arguePanel } from './changes/panel.ts';
import { Trail } from './changes/trail.ts';
import { renderContents } from './contents.ts';
import { h } from './dom.ts';
import { acceptFiles } from './drop.ts';
import { type Entry, listedEntry, type Listed, openedEntry } from './entry.ts';
import { foldOnEscape } from './escape.ts';
import type { Beside } from './figure/laid.ts';
import { Notes } from './notes/notes.ts';
import { lookChoice } from './theme.ts';
import { forgetOpened, keepOpened, keptOpened } from './opened-files.ts';
import { painted } from './painted.ts';
import { watchPrinting } from './print.ts';
import { fetchJson } from './reader.ts';
import { SessionPart } from './session/session.ts';

const entries: Entry[] = [];
let article: Article | null = null;
let session: SessionPart | null = null;
const main = document.getElementById('reading')!;
const contents = document.getElementById('contents')!;
const status = document.getElementById('status')!;

async function start(): Promise<void> {
  acceptFiles(
    document.getElementById('choose') as HTMLInputElement,
    document.getElementById('drop')!,
    (files) => void open(files),
  );
  document.querySelector('.masthead')!.append(lookChoice(() => article?.redraw()));
  foldOnEscape(main);
  watchPrinting(main, () => article?.redraw());
  window.addEventListener('hashchange', () => void show());
  try {
    const [listed, opened] = await Promise.all([fetchJson<Listed[]>('api/spectra'), SessionPart.open()]);
    session = opened;
    entries.push(...listed.map(listedEntry), ...keptOpened().map(openedEntry));
  } catch (error) {
    fail('The session', error);
    return;
  }
  await show();
}

/** Files opened in the page join the list; each is read in the browser. */
async function open(files: readonly File[]): Promise<void> {
  for (const file of files) {
    const opened = { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
    const entry = openedEntry(opened);
    keepOpened(opened);
    const known = entries.findIndex(({ id }) => id === entry.id);
    if (known >= 0) entries[known] = entry;
    else entries.push(entry);
    forget(entry.id);
    if (file !== files.at(-1)) continue;
    if (chosenId() === entry.id) void show();
    else location.hash = encodeURIComponent(entry.id);
  }
}

function close(entry: Entry): void {
  const wasShown = chosenEntry() === entry;
  entries.splice(entries.indexOf(entry), 1);
  forgetOpened(entry.name);
  forget(entry.id);
  if (wasShown && location.hash !== '') location.hash = '';
  else void show();
}

const chosenId = (): string => addressIn(location.hash).id;

/** Whether an id is that of the reading on show or of a part of it, and no spectrum's. */
const isPlace = (id: string): boolean =>
  main.contains(document.getElementById(id)) && !entries.some((entry) => entry.id === id);

/** Shows the spectrum that the address names, else the session, or the first spectrum where there is none. */
async function show(): Promise<void> {
  if (isPlace(chosenId())) return;
  if (session && !entries.some(({ id }) => id === chosenId())) return showSession(session);
  const entry = chosenEntry();
  renderContents(contents, entries, entry, close);
  if (!entry) {
    main.replaceChildren(
      h('p', { class: 'summary' }, 'No spectrum is open. Open an EMSA/MAS file, or drop one on the page.'),
    );
    return;
  }
  await showEntry(entry);
}

/** The usual reading of each spectrum that was shown, and what was asked of it: what changes are held against. */
const usual = new Map<string, LimnerRecord>();
const trails = new Map<string, Trail>();
let shownId: string | null = null;

function forget(id: string): void {
  usual.delete(id);
  trails.delete(id);
}

async function showEntry(entry: Entry): Promise<void> {
  const address = addressIn(location.hash);
  const { changes } = address;
  status.textContent = `Reading ${entry.name} …`;
  main.setAttribute('aria-busy', 'true');
  const isLeft = (): boolean =>
    chosenEntry() !== entry || queryOf(addressIn(location.hash).changes) !== queryOf(changes);
  try {
    const [reading, kept, along] = await Promise.all([entry.read(changes), entry.notes(), session?.along(entry.id)]);
    const before = await usualOf(entry, changes, reading.record);
    if (isLeft()) return;
    const again = shownId === entry.id && article !== null;
    const arguing = arguingAbout(entry, changes, before ? differencesTold(before, reading.record) : []);
    const alternative = (symbol: string) => entry.alternative(changes, symbol);
    const notes = kept && new Notes(entry.id, reading.record.source.sha256, kept);
    const next = createArticle(
      { reading, alternative, arguing, notes, beside: besides(entry, address, reading.record) },
      again ? article!.look() : null,
    );
    const stays = again ? keepPlace() : () => window.scrollTo(0, 0);
    article = next;
    shownId = entry.id;
    main.replaceChildren(...(along ? [along] : []), next.element);
    document.title = `${reading.record.source.title || entry.name} · Limner`;
    stays();
    main.removeAttribute('aria-busy');
    // The words first: Plotly takes longer than all of them.
    await painted();
    if (isLeft()) return;
    await next.show();
    status.textContent = '';
  } catch (error) {
    if (isLeft()) return;
    const apply = (stated: Changes): void => go(entry, stated);
    fail(entry.name, error, lackingForm(changes, apply));
    // What was changed may be the cause: it can be taken back here.
    if (queryOf(changes) !== '') main.append(arguePanel(arguingAbout(entry, changes, [])));
    const counts = await entry.channels().catch(() => null);
    if (counts && !isLeft()) main.append(peaksForm(counts, changes, apply));
  } finally {
    if (!isLeft()) main.removeAttribute('aria-busy');
  }
}

/** The spectrum itself, others to lay over it, and those that lie there. */
const besides = (entry: Entry, { changes, laid }: Address, { conditions }: LimnerRecord): Beside => ({
  liveTimeS: conditions.liveTimeS,
  own: () => entry.spectrum(changes),
  laid,
  keepLaid: (now) => {
    if (chosenEntry() !== entry) return;
    const address = hashOf({ ...addressIn(location.hash), id: entry.id, laid: now });
    if (address !== location.hash) history.replaceState(null, '', address);
  },
  others: [
    { id: '', name: 'the next measurement, as planned', spectra: () => entry.planned(changes) },
    ...entries
      .filter((other) => other !== entry && other.error === null)
      .map((other) => {
        const name = other.title || other.name;
        const spectra = async () => [{ name, spectrum: await other.spectrum(NO_CHANGES) }];
        return { id: other.id, name, spectra };
      }),
  ],
});

/** What changes are held against; null for a usual reading, and for a file that cannot be read without changes. */
async function usualOf(entry: Entry, changes: Changes, record: LimnerRecord): Promise<LimnerRecord | null> {
  if (queryOf(changes) === '') {
    usual.set(entry.id, record);
    return null;
  }
  const known =
    usual.get(entry.id) ??
    (await entry.read(NO_CHANGES).then(
      (reading) => reading.record,
      () => null,
    ));
  if (known) usual.set(entry.id, known);
  return known;
}

function arguingAbout(entry: Entry, changes: Changes, told: readonly string[]): Arguing {
  const trail = trails.get(entry.id) ?? new Trail();
  trails.set(entry.id, trail);
  trail.visit(queryOf(changes));
  const to = (query: string | undefined) =>
    query === undefined ? undefined : () => go(entry, addressIn(`#?${query}`).changes);
  return { changes, told, apply: (next) => go(entry, next), undo: to(trail.before), redo: to(trail.after) };
}

/** The address leads; the page follows it. */
const go = (entry: Entry, changes: Changes): void => {
  location.hash = hashOf({ ...addressIn(location.hash), id: entry.id, changes });
};

/** Where the page is scrolled to, what is unfolded and what has the focus, to be put back after a new reading of the same spectrum. */
function keepPlace(): () => void {
  const { scrollY } = window;
  const unfolded = [...main.querySelectorAll<HTMLElement>('details[open][id]')].map(({ id }) => id);
  const focused = main.contains(document.activeElement) ? document.activeElement!.id : '';
  return () => {
    for (const id of unfolded) document.getElementById(id)?.setAttribute('open', '');
    window.scrollTo(0, scrollY);
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  };
}

function chosenEntry(): Entry | undefined {
  const entry = entries.find(({ id }) => id === chosenId());
  return entry ?? (session ? undefined : entries[0]);
}

async function showSession(shown: SessionPart): Promise<void> {
  article = null;
  main.removeAttribute('aria-busy');
  status.textContent = '';
  document.title = 'The session · Limner';
  // Until the session is read, and where it cannot be, its spectra are reached from the list.
  if (!shown.isRead) renderContents(contents, entries, undefined, close);
  const isLeft = (): boolean => entries.some(({ id }) => id === chosenId());
  try {
    await shown.show(main, isLeft);
    if (isLeft()) return;
    // Its spectra are in its tables; files opened in the page are not.
    renderContents(
      contents,
      entries.filter(({ opened }) => opened),
      undefined,
      close,
    );
    window.scrollTo(0, 0);
  } catch (error) {
    fail('The session', error);
  }
}

function fail(name: string, error: unknown, remedy?: HTMLElement): void {
  article = null;
  main.removeAttribute('aria-busy');
  status.textContent = '';
  document.title = 'Limner';
  main.replaceChildren(
    h(
      'div',
      { class: 'fault', role: 'alert' },
      h('h1', {}, `${name} cannot be read`),
      h('p', {}, error instanceof Error ? error.message : String(error)),
      remedy ? [h('p', {}, 'If the file does not state its axis or its beam energy, enter them here:'), remedy] : null,
    ),
  );
}

void start();

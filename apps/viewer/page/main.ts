import { createArticle, type Article } from './article.ts';
import { renderContents, type Entry } from './contents.ts';
import { h } from './dom.ts';
import { acceptFiles } from './drop.ts';
import { type Given, givenForm, queryOf } from './given.ts';
import { lookChoice } from './theme.ts';
import { watchPrinting } from './print.ts';
import { fetchJson, readOpened } from './reader.ts';
import type { ReadingView } from './reading.ts';
import { SessionPart } from './session/session.ts';

interface Listed {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly error: string | null;
}

const entries: Entry[] = [];
let article: Article | null = null;
let session: SessionPart | null = null;
const main = document.getElementById('reading')!;
const contents = document.getElementById('contents')!;
const status = document.getElementById('status')!;

async function start(): Promise<void> {
  acceptFiles(document.getElementById('choose') as HTMLInputElement, document.getElementById('drop')!, open);
  document.querySelector('.masthead')!.append(lookChoice(() => article?.redraw()));
  watchPrinting(main, () => article?.redraw());
  window.addEventListener('hashchange', () => void show());
  try {
    const listed = await fetchJson<Listed[]>('api/spectra');
    session = await SessionPart.open();
    entries.push(
      ...listed.map((one) => ({
        ...one,
        read: (given: Given = {}) =>
          fetchJson<ReadingView>(`api/spectra/${encodeURIComponent(one.id)}/reading${queryOf(given)}`),
      })),
    );
  } catch (error) {
    fail('The session', error);
    return;
  }
  await show();
}

/** Files opened in the page join the list; each is read in the browser. */
function open(files: readonly File[]): void {
  for (const file of files) {
    const id = `opened: ${file.name}`;
    let reading: Promise<ReadingView> | null = null;
    const read = (given?: Given) => (reading = given || !reading ? readOpened(file, given) : reading);
    const entry: Entry = { id, name: file.name, title: '', error: null, read };
    const known = entries.findIndex((other) => other.id === id);
    if (known >= 0) entries[known] = entry;
    else entries.push(entry);
    if (file !== files.at(-1)) continue;
    if (chosenId() === id) void show();
    else location.hash = encodeURIComponent(id);
  }
}

const chosenId = (): string => {
  try {
    return decodeURIComponent(location.hash.slice(1));
  } catch {
    return '';
  }
};

/** Whether an id is that of the reading on show or of a part of it, and no spectrum's. */
const isPlace = (id: string): boolean =>
  main.contains(document.getElementById(id)) && !entries.some((entry) => entry.id === id);

/** Shows the spectrum that the address names, else the session, or the first spectrum where there is none. */
async function show(): Promise<void> {
  if (isPlace(chosenId())) return;
  if (session && !entries.some(({ id }) => id === chosenId())) return showSession(session);
  const entry = chosenEntry();
  renderContents(contents, entries, entry);
  if (!entry) {
    main.replaceChildren(
      h('p', { class: 'summary' }, 'No spectrum is open. Open an EMSA/MAS file, or drop one on the page.'),
    );
    return;
  }
  await showEntry(entry);
}

async function showEntry(entry: Entry, given?: Given): Promise<void> {
  status.textContent = `Reading ${entry.name} …`;
  main.setAttribute('aria-busy', 'true');
  const again = givenForm((stated) => void showEntry(entry, stated));
  try {
    const reading = await entry.read(given);
    if (isStale(entry)) return;
    article = createArticle(reading);
    main.replaceChildren(...(session ? [session.along(entry.id)] : []), article.element, folded(again));
    document.title = `${reading.record.source.title || entry.name} · Limner`;
    window.scrollTo(0, 0);
    await article.show();
    status.textContent = '';
  } catch (error) {
    if (!isStale(entry)) fail(entry.name, error, again);
  } finally {
    if (!isStale(entry)) main.removeAttribute('aria-busy');
  }
}

/** Whether another spectrum was chosen while this one was being read. */
const isStale = (entry: Entry): boolean => chosenEntry() !== entry;

function chosenEntry(): Entry | undefined {
  const entry = entries.find(({ id }) => id === chosenId());
  return entry ?? (session ? undefined : entries[0]);
}

async function showSession(shown: SessionPart): Promise<void> {
  article = null;
  status.textContent = '';
  document.title = 'The session · Limner';
  // Until the session is read, and where it cannot be, its spectra are reached from the list.
  renderContents(contents, entries, undefined);
  const isLeft = (): boolean => entries.some(({ id }) => id === chosenId());
  try {
    await shown.show(main, isLeft);
    if (isLeft()) return;
    renderContents(contents, [], undefined);
    window.scrollTo(0, 0);
  } catch (error) {
    fail('The session', error);
  }
}

const folded = (form: HTMLElement): HTMLElement =>
  h('details', { class: 'folded' }, h('summary', {}, 'Read it with another beam energy or axis'), form);

function fail(name: string, error: unknown, remedy?: HTMLElement): void {
  article = null;
  status.textContent = '';
  document.title = 'Limner';
  main.replaceChildren(
    h(
      'div',
      { class: 'fault', role: 'alert' },
      h('h1', {}, `${name} cannot be read`),
      h('p', {}, error instanceof Error ? error.message : String(error)),
      remedy ? [h('p', {}, 'If the file does not say its axis or beam energy, state them here:'), remedy] : null,
    ),
  );
}

void start();

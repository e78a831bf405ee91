import { findingsWith, type Figure, NO_SPECTRUM, THUMBNAIL_KEY } from '@limner/core';
import { h } from './dom.ts';
import { download } from './download.ts';
import { createFigure, type Look } from './figure/figure.ts';
import type { Beside } from './figure/laid.ts';
import { createPictures } from './figure/thumbnails.ts';
import { type LayerLook, looksOf } from './palette.ts';
import { type Arguing, arguePanel, takenOut } from './changes/panel.ts';
import { noNotes, type Notes } from './notes/notes.ts';
import type { AlternativeView, ReadingView } from './reading.ts';
import { candidates } from './tree/candidates.ts';
import { type ClaimActions, claims } from './tree/claims.ts';
import { type NotesOn, type Own, treeNodes } from './tree/nodes.ts';

export interface Article {
  readonly element: HTMLElement;
  /** Draws the figure, once the article stands in the page; then the small pictures, as their fits are made. */
  show(): Promise<void>;
  redraw(): void;
  /** How the figure is looked at, for the next reading of the same spectrum. */
  look(): Look | null;
}

/** A reading, and what can be asked of it. */
export interface Told {
  readonly reading: ReadingView;
  readonly alternative: (symbol: string) => Promise<AlternativeView | null>;
  readonly beside: Beside;
  readonly arguing: Arguing;
  /** Null where none can be kept. */
  readonly notes: Notes | null;
}

/** The reading of one spectrum: its tree, with the page's figures in their places; the tree alone where the spectrum is not at hand. */
export function createArticle(told: Told, look: Look | null): Article {
  const { reading, alternative, arguing, notes } = told;
  const { record, curves } = reading;
  const looks = looksOf([...findingsWith(record, 'present'), ...findingsWith(record, 'open')]);
  if (!curves) {
    const element = articleOf(
      { reading, notes },
      looks,
      null,
      h('p', { id: 'no-spectrum', class: 'lead-in' }, NO_SPECTRUM),
    );
    return { element, show: () => Promise.resolve(), redraw: () => undefined, look: () => null };
  }
  const figure = createFigure({ ...reading, curves }, looks, told.beside, look);
  const pictures = createPictures({ record, curves }, looks, alternative);
  const act: ClaimActions = {
    mark: async (symbol) => {
      figure.element.scrollIntoView({ block: 'nearest' });
      await figure.toggleMarks(symbol);
    },
    compare: async (symbol) => {
      figure.element.scrollIntoView({ block: 'nearest' });
      await figure.compare(symbol, await alternative(symbol));
    },
    takeOut: (symbol) => arguing.apply(takenOut(arguing.changes, symbol)),
  };
  const drawn = (place: Figure): HTMLElement | null =>
    place.figure === 'spectrum' ? figure.element : pictures.of(place);
  return {
    element: articleOf({ reading, notes }, looks, { drawn, act }, arguePanel(arguing)),
    show: async () => {
      await figure.show();
      void pictures.refine();
    },
    redraw: figure.redraw,
    look: figure.look,
  };
}

/** The page's own parts of a reading; null where there is no spectrum to draw. */
interface Drawing {
  readonly drawn: (place: Figure) => HTMLElement | null;
  readonly act: ClaimActions;
}

function articleOf(
  { reading: { record, tree }, notes }: Pick<Told, 'reading' | 'notes'>,
  looks: ReadonlyMap<string, LayerLook>,
  drawing: Drawing | null,
  afterAnswer: HTMLElement,
): HTMLElement {
  const { name, title } = record.source;
  const plain: Own = { figure: drawing?.drawn ?? (() => null), tables: {} };
  const notesOn: NotesOn = (thing) => notes?.on(thing) ?? null;
  const blocks = claims(record, looks, drawing?.act ?? null, plain, notesOn);
  const own: Own = {
    ...plain,
    tables: {
      'element-table': (table) =>
        h('div', {}, drawing ? h('p', { class: 'lead-in' }, THUMBNAIL_KEY) : null, blocks(table)),
      'material-table': candidates(plain, notesOn),
    },
  };
  const [answer, ...rest] = tree.nodes;
  return h(
    'article',
    { class: 'reading' },
    h('p', { class: 'overline' }, title ? name : ''),
    h('h1', {}, title || name),
    treeNodes(answer ? [answer] : [], own),
    afterAnswer,
    treeNodes(rest, own),
    notes ? null : noNotes(),
    h(
      'p',
      { class: 'screen-only' },
      h('button', { type: 'button', id: 'download', onclick: () => download(record) }, 'Download the record (JSON)'),
    ),
  );
}

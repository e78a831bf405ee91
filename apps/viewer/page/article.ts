import { findingsWith, type Figure, THUMBNAIL_KEY } from '@limner/core';
import { h } from './dom.ts';
import { download } from './download.ts';
import { createFigure, type Look } from './figure/figure.ts';
import { createPictures } from './figure/thumbnails.ts';
import { looksOf } from './palette.ts';
import { type Arguing, arguePanel, takenOut } from './changes/panel.ts';
import type { AlternativeView, ReadingView } from './reading.ts';
import { candidates } from './tree/candidates.ts';
import { type ClaimActions, claims } from './tree/claims.ts';
import { type Own, treeNodes } from './tree/nodes.ts';

export interface Article {
  readonly element: HTMLElement;
  /** Draws the figure, once the article stands in the page; then the small pictures, as their fits are made. */
  show(): Promise<void>;
  redraw(): void;
  /** How the figure is looked at, for the next reading of the same spectrum. */
  look(): Look;
}

/** A reading, and what can be asked of it. */
export interface Told {
  readonly reading: ReadingView;
  readonly alternative: (symbol: string) => Promise<AlternativeView | null>;
  readonly arguing: Arguing;
}

/** The reading of one spectrum: its tree, with the page's figures in their places. */
export function createArticle({ reading, alternative, arguing }: Told, look: Look | null): Article {
  const { record, tree } = reading;
  const { name, title } = record.source;
  const looks = looksOf([...findingsWith(record, 'present'), ...findingsWith(record, 'open')]);
  const figure = createFigure(reading, looks, look);
  const pictures = createPictures(reading, looks, alternative);
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
  const plain: Own = { figure: drawn, tables: {} };
  const blocks = claims(reading, looks, act, plain);
  const own: Own = {
    figure: drawn,
    tables: {
      'element-table': (table) => h('div', {}, h('p', { class: 'lead-in' }, THUMBNAIL_KEY), blocks(table)),
      'material-table': candidates(plain),
    },
  };
  const [answer, ...rest] = tree.nodes;
  const element = h(
    'article',
    { class: 'reading' },
    h('p', { class: 'overline' }, title ? name : ''),
    h('h1', {}, title || name),
    treeNodes(answer ? [answer] : [], own),
    arguePanel(arguing),
    treeNodes(rest, own),
    h(
      'p',
      { class: 'screen-only' },
      h('button', { type: 'button', id: 'download', onclick: () => download(record) }, 'Download the record (JSON)'),
    ),
  );
  return {
    element,
    show: async () => {
      await figure.show();
      void pictures.refine();
    },
    redraw: figure.redraw,
    look: figure.look,
  };
}

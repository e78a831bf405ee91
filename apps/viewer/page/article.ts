import { findingsWith, type Figure, THUMBNAIL_KEY } from '@limner/core';
import { h } from './dom.ts';
import { download } from './download.ts';
import { createFigure } from './figure/figure.ts';
import { thumbnails } from './figure/thumbnails.ts';
import { looksOf } from './palette.ts';
import type { ReadingView } from './reading.ts';
import { candidates } from './tree/candidates.ts';
import { claims } from './tree/claims.ts';
import { type Own, treeNodes } from './tree/nodes.ts';

export interface Article {
  readonly element: HTMLElement;
  /** Draws the figure, once the article stands in the page. */
  show(): Promise<void>;
  redraw(): void;
}

/** The reading of one spectrum: its tree, with the page's figures in their places. */
export function createArticle(reading: ReadingView): Article {
  const { record, tree } = reading;
  const { name, title } = record.source;
  const looks = looksOf([...findingsWith(record, 'present'), ...findingsWith(record, 'open')]);
  const figure = createFigure(reading, looks);
  const mark = async (symbol: string): Promise<void> => {
    figure.element.scrollIntoView({ block: 'nearest' });
    await figure.toggleMarks(symbol);
  };
  const drawn = (place: Figure): HTMLElement | null =>
    place.figure === 'spectrum' ? figure.element : thumbnails(place, reading, looks);
  const plain: Own = { figure: drawn, tables: {} };
  const blocks = claims(reading, looks, mark, plain);
  const own: Own = {
    figure: drawn,
    tables: {
      'element-table': (table) => h('div', {}, h('p', { class: 'lead-in' }, THUMBNAIL_KEY), blocks(table)),
      'material-table': candidates(plain),
    },
  };
  const element = h(
    'article',
    { class: 'reading' },
    h('p', { class: 'overline' }, title ? name : ''),
    h('h1', {}, title || name),
    treeNodes(tree.nodes, own),
    h(
      'p',
      { class: 'screen-only' },
      h('button', { type: 'button', id: 'download', onclick: () => download(record) }, 'Download the record (JSON)'),
    ),
  );
  return { element, show: figure.show, redraw: figure.redraw };
}

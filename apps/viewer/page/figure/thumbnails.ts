import { elementName, type Figure, keV, lineName, type LimnerRecord } from '@limner/core';
import { h } from '../dom.ts';
import { ARTEFACT } from '../palette.ts';
import type { CurvesView } from '../reading.ts';
import { chooseThumbnails, drawThumbnail } from './thumbnail.ts';

/** Small pictures of the lines that show an element best, with and without it; null where none can be drawn. */
export function thumbnails(
  { id, of: [symbol], caption }: Figure,
  { record, curves }: { readonly record: LimnerRecord; readonly curves: CurvesView },
  colours: ReadonlyMap<string, string>,
): HTMLElement | null {
  const layer = curves.layers.find(({ kind, name }) => kind === 'element' && name === symbol);
  const finding = record.elements.find((one) => one.symbol === symbol);
  if (!layer || !finding) return null;
  const chosen = chooseThumbnails(finding.lines, layer, curves);
  if (chosen.length === 0) return null;
  return h(
    'div',
    { id, class: 'thumbnails', role: 'group', 'aria-label': caption },
    chosen.map((one) =>
      h(
        'figure',
        {},
        drawThumbnail(one, layer, curves, colours.get(layer.name) ?? ARTEFACT, elementName(finding.z)),
        h('figcaption', {}, `${lineName(one.line)}, ${keV(one.line.energyEv)}`),
      ),
    ),
  );
}

/** How to read them, once for all. */
export const THUMBNAIL_KEY =
  'In the small pictures: measured counts (dots), the fit (red line), and the fit without the element (broken line). ' +
  'A picture without a base line does not begin at zero.';

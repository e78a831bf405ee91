import { elementName, type Figure, keV, lineName, type LimnerRecord } from '@limner/core';
import { h } from '../dom.ts';
import { layerColour, type LayerLook } from '../palette.ts';
import type { CurvesView } from '../reading.ts';
import { chooseThumbnails, drawThumbnail } from './thumbnail.ts';

/** Small pictures of the lines that show an element best, with and without it; null where none can be drawn. */
export function thumbnails(
  { id, of: [symbol], caption }: Figure,
  { record, curves }: { readonly record: LimnerRecord; readonly curves: CurvesView },
  looks: ReadonlyMap<string, LayerLook>,
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
        drawThumbnail(one, layer, curves, layerColour(looks.get(layer.name)), elementName(finding.z)),
        h('figcaption', {}, `${lineName(one.line)}, ${keV(one.line.energyEv)}`),
      ),
    ),
  );
}

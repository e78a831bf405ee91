import { elementName, type Figure, keV, lineName, type LimnerRecord } from '@limner/core';
import { h } from '../dom.ts';
import { layerColour, type LayerLook } from '../palette.ts';
import type { AlternativeView, CurvesView } from '../reading.ts';
import { chooseThumbnails, drawThumbnail } from './thumbnail.ts';

/** The small pictures of a reading. */
export interface Pictures {
  /** The lines that show an element best, with and without it; null where none can be drawn. */
  of(place: Figure): HTMLElement | null;
  /** Draws each anew once its element has been left out and everything else fitted again. */
  refine(): Promise<void>;
}

export function createPictures(
  { record, curves }: { readonly record: LimnerRecord; readonly curves: CurvesView },
  looks: ReadonlyMap<string, LayerLook>,
  alternative: (symbol: string) => Promise<AlternativeView | null>,
): Pictures {
  const drawn = new Map<
    string,
    { readonly holder: HTMLElement; readonly draw: (refitted: AlternativeView | null) => void }
  >();
  const of = ({ id, of: [symbol], caption }: Figure): HTMLElement | null => {
    const layer = curves.layers.find(({ kind, name }) => kind === 'element' && name === symbol);
    const finding = record.elements.find((one) => one.symbol === symbol);
    if (!layer || !finding) return null;
    const chosen = chooseThumbnails(finding.lines, layer, curves);
    if (chosen.length === 0) return null;
    const [colour, name] = [layerColour(looks.get(layer.name)), elementName(finding.z)];
    const holder = h('div', { id, class: 'thumbnails', role: 'group', 'aria-label': caption });
    const draw = (refitted: AlternativeView | null): void =>
      holder.replaceChildren(
        ...chosen.map((one) =>
          h(
            'figure',
            {},
            drawThumbnail(one, layer, curves, refitted, colour, name),
            h('figcaption', {}, `${lineName(one.line)}, ${keV(one.line.energyEv)}`),
          ),
        ),
      );
    draw(null);
    drawn.set(symbol, { holder, draw });
    return holder;
  };
  const refine = async (): Promise<void> => {
    for (const [symbol, { holder, draw }] of drawn) {
      // Another reading is on show by now: its answer must not wait for these fits.
      if (!holder.isConnected) return;
      // A picture stays as it is where its fit cannot be made.
      const refitted = await alternative(symbol).catch(() => null);
      if (refitted) draw(refitted);
    }
  };
  return { of, refine };
}

import type { BenchState } from '@limner/core';
import { h } from '../dom.ts';
import type { Core } from './core.ts';
import { spectrumFigure } from './result.ts';
import { FIRST_SIGHT, type Sight } from './sight.ts';

/** A very good, a usual and a poor detector of today, eV at 5.9 keV (common practice, no source). */
const RESOLUTIONS_EV = [122, 135, 170];
const NARROW_PX = 600;

/** The same specimen at three resolutions, around the element's peak; null where newer questions came in between. */
export async function threeResolutions(
  core: Core,
  state: BenchState,
  sight: Sight,
  widthPx: number,
): Promise<Element[] | null> {
  if (state.out === null) return [];
  const columns: Element[] = [];
  for (const fwhmMnEv of RESOLUTIONS_EV) {
    const at = { ...state, fwhmMnEv };
    const curves = await core.ask('curves', at);
    const told = curves && (await core.ask('answer', at));
    if (curves === null || told === null) return null;
    const width = widthPx < NARROW_PX ? widthPx : Math.floor((widthPx - 32) / 3);
    columns.push(
      h(
        'figure',
        {},
        h('figcaption', {}, `${fwhmMnEv} eV: ${told.words.brief}`),
        spectrumFigure(
          curves,
          told.found,
          at,
          { ...FIRST_SIGHT, scale: sight.scale },
          Math.max(220, width),
          told.found.peakEv,
        ),
      ),
    );
  }
  return [h('h3', {}, 'The same specimen at three resolutions'), h('div', { class: 'columns' }, columns)];
}

import type { BenchCurves, BenchState } from '@limner/core';
import { h } from '../dom.ts';
import type { Asker } from './core.ts';
import type { Told } from './protocol.ts';
import { spectrumFigure } from './result.ts';
import { FIRST_SIGHT, type Sight } from './sight.ts';

/** A very good, a usual and a poor detector of today, eV at 5.9 keV (common practice, no source). */
const RESOLUTIONS_EV = [122, 135, 170];
const NARROW_PX = 600;

/** A specimen at one of the resolutions. */
export interface AtResolution {
  readonly state: BenchState;
  readonly curves: BenchCurves;
  readonly told: Told;
}

/** The same specimen at three resolutions, where an element is taken out; null where something newer came in between. */
export async function atThreeResolutions(asker: Asker, state: BenchState): Promise<AtResolution[] | null> {
  const three: AtResolution[] = [];
  for (const fwhmMnEv of state.out === null ? [] : RESOLUTIONS_EV) {
    const at = { ...state, fwhmMnEv };
    const curves = await asker.ask('curves', at);
    const told = curves && (await asker.ask('answer', at));
    if (curves === null || told === null) return null;
    three.push({ state: at, curves, told });
  }
  return three;
}

/** Their figures, around the element's peak. */
export function drawThree(three: readonly AtResolution[], { scale }: Sight, widthPx: number): Element[] {
  if (three.length === 0) return [];
  const width = Math.max(220, widthPx < NARROW_PX ? widthPx : Math.floor((widthPx - 32) / 3));
  const columns = three.map(({ state, curves, told: { words, found } }) =>
    h(
      'figure',
      {},
      h('figcaption', {}, `${state.fwhmMnEv} eV: ${words.brief}`),
      spectrumFigure(curves, found, state, { ...FIRST_SIGHT, scale }, width, found.peakEv),
    ),
  );
  return [h('h3', {}, 'The same specimen at three resolutions'), h('div', { class: 'columns' }, columns)];
}

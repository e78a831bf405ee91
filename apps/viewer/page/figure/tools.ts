import { h } from '../dom.ts';
import type { PlotState } from './plot-state.ts';
import { type Scale, SCALES, type ScaleName } from './scale.ts';

/** Kinds of file that a figure can be saved as. */
export type Kind = 'svg' | 'png';

/** The figure as a file, as it looks. */
export function saveTools(saveAs: (kind: Kind) => Promise<void>): HTMLElement {
  const button = (kind: Kind) =>
    h(
      'button',
      {
        type: 'button',
        'aria-label': `Save the figure as ${kind.toUpperCase()}`,
        onclick: () => void saveAs(kind),
      },
      kind.toUpperCase(),
    );
  return h(
    'div',
    { class: 'zoom', role: 'group', 'aria-label': 'Save the figure' },
    'Save',
    button('svg'),
    button('png'),
  );
}

/** The figure as a print without colour shows it. */
export const greyChoice = (isGrey: boolean, choose: (grey: boolean) => void): HTMLElement =>
  h(
    'label',
    {},
    h('input', {
      type: 'checkbox',
      id: 'grey',
      checked: isGrey,
      onchange: (event) => choose((event.target as HTMLInputElement).checked),
    }),
    ' in grey, for print',
  );

/** Where a key leads: arrows move by a quarter, plus and minus zoom about the middle, 0 shows all. */
export function keyRange(
  key: string,
  [from, to]: readonly [number, number],
  whole: [number, number],
): [number, number] | null {
  const span = to - from;
  switch (key) {
    case 'ArrowLeft':
      return [from - span / 4, to - span / 4];
    case 'ArrowRight':
      return [from + span / 4, to + span / 4];
    case '+':
    case '=':
      return [from + span / 4, to - span / 4];
    case '-':
      return [from - span / 2, to + span / 2];
    case '0':
      return whole;
    default:
      return null;
  }
}

/** Buttons that do what the keys do. */
export function zoomButtons(
  rangeKev: () => PlotState['rangeKev'],
  whole: [number, number],
  look: (range: [number, number]) => Promise<void>,
) {
  const button = (text: string, label: string, key: string) =>
    h(
      'button',
      { type: 'button', 'aria-label': label, onclick: () => void look(keyRange(key, rangeKev(), whole)!) },
      text,
    );
  return h(
    'div',
    { class: 'zoom', role: 'group', 'aria-label': 'Visible part of the axis' },
    button('←', 'Move to lower energy', 'ArrowLeft'),
    button('→', 'Move to higher energy', 'ArrowRight'),
    button('+', 'Zoom in', '+'),
    button('−', 'Zoom out', '-'),
    button('all', 'Show all', '0'),
  );
}

export function scaleChoice(chosen: Scale, choose: (scale: (typeof SCALES)[ScaleName]) => void): HTMLElement {
  const choice = (name: ScaleName) =>
    h(
      'label',
      {},
      h('input', {
        type: 'radio',
        name: 'scale',
        value: name,
        checked: SCALES[name] === chosen,
        onchange: () => choose(SCALES[name]),
      }),
      SCALES[name].label,
    );
  return h('fieldset', { class: 'scale' }, h('legend', {}, 'Counts'), choice('linear'), choice('root'), choice('log'));
}

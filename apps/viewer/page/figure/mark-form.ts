import type { LimnerRecord } from '@limner/core';
import { h } from '../dom.ts';
import { sendButton, smallForm } from '../changes/forms.ts';
import { ELEMENT_NAMES, elementIn, elementNames } from '../element-field.ts';
import { linesToMark } from '../reader.ts';
import type { MarkedLine } from '../reading.ts';

export interface Marked {
  readonly symbol: string;
  readonly lines: readonly MarkedLine[];
}

/** The field that marks the lines of an element in the figure: a symbol or a name is typed, its lines appear. */
export function markForm(record: LimnerRecord, changed: (marked: readonly Marked[]) => Promise<void>) {
  const marked = new Map<string, Marked>();
  const chips = h('span', { class: 'chips' });
  const field = h('input', {
    id: 'mark',
    list: ELEMENT_NAMES,
    autocomplete: 'off',
    placeholder: 'Pb or lead',
    size: 10,
  });

  async function toggle(symbol: string): Promise<void> {
    if (!marked.delete(symbol)) {
      marked.set(symbol, { symbol, lines: await linesToMark(symbol, record.conditions.beamKev.value) });
    }
    chips.replaceChildren(...[...marked.keys()].map(chip));
    await changed([...marked.values()]);
  }
  const chip = (symbol: string) =>
    h(
      'button',
      {
        type: 'button',
        class: 'chip',
        'aria-label': `Remove the marks of ${symbol}`,
        onclick: () => void toggle(symbol),
      },
      `${symbol} ×`,
    );

  const act = async (): Promise<void> => {
    const symbol = elementIn(field.value);
    field.value = '';
    if (!marked.has(symbol)) await toggle(symbol);
  };
  const label = h('label', { for: 'mark' }, 'Mark the lines of');
  const fields = [label, field, sendButton('mark'), chips, elementNames()];
  return { element: smallForm('Marked lines', act, fields, 'marks'), toggle };
}

import type { LimnerRecord } from '@limner/core';
import { h } from '../dom.ts';
import { ELEMENT_NAMES, elementNames, symbolFrom, unknownElement } from '../element-field.ts';
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
  const note = h('span', { class: 'note', role: 'status' });
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

  async function submit(event: Event): Promise<void> {
    event.preventDefault();
    const symbol = symbolFrom(field.value);
    note.textContent = symbol ? '' : unknownElement(field.value);
    if (!symbol) return;
    field.value = '';
    if (!marked.has(symbol)) await toggle(symbol);
  }

  const element = h(
    'form',
    { class: 'marks', onsubmit: (event) => void submit(event) },
    h('label', { for: 'mark' }, 'Mark the lines of'),
    field,
    h('button', { type: 'submit' }, 'mark'),
    chips,
    note,
    elementNames(),
  );
  return { element, toggle };
}

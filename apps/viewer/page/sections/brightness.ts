import { brightnessSentences, type LimnerRecord } from '@limner/core';
import { h } from '../dom.ts';

/** How bright the grain should look in the backscatter image, and whether it did. */
export function brightnessSection(record: LimnerRecord): HTMLElement | null {
  const sentences = brightnessSentences(record);
  if (sentences.length === 0) return null;
  return h(
    'section',
    { class: 'brightness', 'aria-labelledby': 'brightness' },
    h('h2', { id: 'brightness' }, 'Brightness in the backscatter image'),
    sentences.map((sentence) => h('p', {}, sentence)),
  );
}

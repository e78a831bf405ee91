import { channelText, CURSOR_HINT, keV } from '@limner/core';
import { h } from '../dom.ts';
import { linesHere } from '../reader.ts';
import type { DrawnReading } from '../reading.ts';
import { channelTold } from './traces.ts';

export interface Cursor {
  readonly element: HTMLElement;
  /** Tells what is at a channel. */
  readonly at: (channel: number) => void;
  /** Energy of the channel that is told, eV. */
  readonly energyEv: () => number;
  /** Moves by a channel, or by ten with PageUp and PageDown; false for other keys. */
  readonly step: (key: string) => boolean;
}

const STEPS: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowRight: 1, PageDown: -10, PageUp: 10 };

/** What is at one place of the spectrum, in words: energy, counts, who carries them, and the lines that could be there. */
export function createCursor({ curves, record }: DrawnReading): Cursor {
  const place = h('span', { class: 'hint' }, CURSOR_HINT);
  const lines = h('span', {});
  const element = h('p', { class: 'cursor screen-only', 'aria-live': 'polite' }, place, ' ', lines);
  const inFit = curves.layers.filter(({ kind }) => kind === 'element').map(({ name }) => name);
  const last = curves.energyEv.length - 1;
  let channel = curves.counts.length >> 2;

  const at = (wanted: number): void => {
    channel = Math.min(last, Math.max(0, wanted));
    const energyEv = curves.energyEv[channel];
    place.className = '';
    place.textContent = `${keV(energyEv)}: ${channelText(channelTold(curves, channel)).join('; ')}.`;
    const asked = channel;
    // Half of the peak's width there: within it a line cannot be told from this energy by eye.
    const withinEv = 0.5 * Math.sqrt(record.axis.fwhmMnEv.value ** 2 * Math.max(0.3, energyEv / 5899));
    void linesHere(energyEv, withinEv, inFit).then((text) => {
      if (asked === channel) lines.textContent = text;
    });
  };
  const step = (key: string): boolean => {
    const by = STEPS[key];
    if (by !== undefined) at(channel + by);
    return by !== undefined;
  };
  return { element, at, energyEv: () => curves.energyEv[channel], step };
}

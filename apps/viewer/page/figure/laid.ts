import { overlayText } from '@limner/core';
import type { LaidOver, ScaledTo } from '../changes/address.ts';
import { h } from '../dom.ts';
import type { PlainSpectrum } from '../reading.ts';
import { type OtherSpectrum, overlaid, type Overlay, overlayForm, overlayList, SCALED_TO } from './overlay.ts';

/** The spectrum on show, those that can be laid over it, and what is laid now. */
export interface Beside {
  readonly own: () => Promise<PlainSpectrum>;
  readonly others: readonly OtherSpectrum[];
  readonly laid: readonly LaidOver[];
  /** Live time of this one; null where its file states none. */
  readonly liveTimeS: number | null;
  /** Called with what is laid after each change. */
  readonly keepLaid: (laid: readonly LaidOver[]) => void;
}

export interface Laid {
  /** Where others are chosen. */
  readonly form: HTMLElement;
  /** What is laid over, in words. */
  readonly list: HTMLElement;
  /** The same, for the caption of a saved figure. */
  readonly told: () => string[];
  /** Lays again what was laid before. */
  restore(): Promise<void>;
}

/** Spectra laid over the figure. @param cursorEv energy that is looked at, eV @param draw called with all that is laid */
export function createLaid(
  beside: Beside,
  cursorEv: () => number,
  draw: (overlays: readonly Overlay[]) => Promise<void>,
): Laid {
  const lines = h('ul', { class: 'laid', 'aria-label': 'Overlays' });
  const list = h('div', { role: 'status' }, lines);
  const textOf = ({ name, to }: Overlay, i: number): string => overlayText(i, name, SCALED_TO[to]);
  let overlays: readonly Overlay[] = [];

  async function show(next: readonly Overlay[], keep = true): Promise<void> {
    overlays = next;
    const without = (i: number) => void show(overlays.filter((_, other) => other !== i));
    lines.replaceChildren(...overlayList(overlays, textOf, without));
    if (keep) beside.keepLaid(namedIn(overlays));
    await draw(overlays);
  }

  async function scaled(other: OtherSpectrum, to: ScaledTo, atEv: number): Promise<Overlay[]> {
    const own = await beside.own();
    return (await other.spectra()).map(({ name, spectrum }) => {
      const isTimeless = spectrum.planned && to === 'time';
      return overlaid({ id: other.id, to: isTimeless ? 'counts' : to, atEv }, name, spectrum, own);
    });
  }

  const restore = async (): Promise<void> => {
    for (const { id, to, atEv } of beside.laid) {
      const other = beside.others.find((one) => one.id === id);
      // What is no longer open here, or cannot be scaled any more, is left out of the address too.
      const added = other ? await scaled(other, to, atEv).catch(() => []) : [];
      await show([...overlays, ...added], false);
    }
    if (beside.laid.length > 0) beside.keepLaid(namedIn(overlays));
  };
  const form = overlayForm(beside.others, beside.liveTimeS === null ? 'counts' : 'time', async (other, to) =>
    show([...overlays, ...(await scaled(other, to, cursorEv()))]),
  );
  return { form, list, told: () => overlays.map(textOf), restore };
}

/** A plan's two explanations have one name. */
function namedIn(overlays: readonly Overlay[]): LaidOver[] {
  const named = overlays.map(({ id, to, atEv }) => ({ id, to, atEv }));
  const isFirst = (one: LaidOver, i: number): boolean =>
    named.findIndex(({ id, to, atEv }) => id === one.id && to === one.to && atEv === one.atEv) === i;
  return named.filter(isFirst);
}

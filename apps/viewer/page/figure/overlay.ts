import { h } from '../dom.ts';
import type { PlainSpectrum } from '../reading.ts';

/** What another spectrum is scaled to before it is laid over. */
export type ScaledTo = 'time' | 'counts' | 'peak';
const SCALED_TO: Readonly<Record<ScaledTo, string>> = {
  time: 'live time',
  counts: 'all counts',
  peak: 'peak at the cursor',
};
/** Half of the stretch that is taken for a peak, eV: about half of its width. */
const PEAK_EV = 60;

/** Another spectrum of the list. */
export interface OtherSpectrum {
  readonly name: string;
  readonly spectrum: () => Promise<PlainSpectrum>;
}

/** Another spectrum as it is drawn. */
export interface Overlay {
  readonly name: string;
  readonly energyEv: readonly number[];
  readonly counts: readonly number[];
}

/**
 * Another spectrum with its counts per eV scaled to those of this one.
 * @param atEv energy of the peak that both are scaled to @throws RangeError where there is nothing to scale to
 */
export function overlaid(name: string, other: PlainSpectrum, own: PlainSpectrum, to: ScaledTo, atEv: number): Overlay {
  const factor = factorOf(other, own, to, atEv);
  const perChannel = own.gainEv / other.gainEv;
  // Live time says how long, so channels of another width must be told apart; sums of counts say it all.
  const counts = Array.from(other.counts, (value) => value * factor * perChannel);
  return { name, energyEv: counts.map((_, i) => other.offsetEv + other.gainEv * i), counts };
}

function factorOf(other: PlainSpectrum, own: PlainSpectrum, to: ScaledTo, atEv: number): number {
  const within = (spectrum: PlainSpectrum): number =>
    to === 'time'
      ? (spectrum.liveTimeS ?? 0)
      : spectrum.counts.reduce((sum, value, i) => {
          const isIn = to === 'counts' || Math.abs(spectrum.offsetEv + spectrum.gainEv * i - atEv) <= PEAK_EV;
          return isIn ? sum + value : sum;
        }, 0);
  const [mine, its] = [within(own), within(other)];
  if (mine > 0 && its > 0) return mine / its;
  throw new RangeError(to === 'time' ? 'One of the two states no live time.' : 'One of the two has no counts there.');
}

/** The choice of a spectrum to lay over this one. @param change null takes it away */
export function overlayForm(
  others: readonly OtherSpectrum[],
  change: (other: OtherSpectrum | null, to: ScaledTo) => Promise<void>,
): HTMLElement | null {
  if (others.length === 0) return null;
  const note = h('span', { class: 'note', role: 'status' });
  const which = h('select', { id: 'overlay' }, h('option', { value: '' }, 'nothing'));
  const scaled = h(
    'select',
    { 'aria-label': 'Scaled to' },
    Object.entries(SCALED_TO).map(([value, text]) => h('option', { value }, text)),
  );
  // Filled when it is asked for: a session may have thousands.
  which.addEventListener(
    'focus',
    () => which.append(...others.map(({ name }, i) => h('option', { value: String(i) }, name))),
    { once: true },
  );
  const apply = async (): Promise<void> => {
    note.textContent = '';
    const other = which.value === '' ? null : others[Number(which.value)];
    await change(other, scaled.value as ScaledTo).catch((error: unknown) => {
      note.textContent = error instanceof Error ? error.message : String(error);
    });
  };
  return h(
    'form',
    {
      class: 'marks',
      'aria-label': 'Another spectrum',
      onsubmit: (event) => event.preventDefault(),
      onchange: () => void apply(),
    },
    h('label', { for: 'overlay' }, 'Lay over'),
    which,
    'scaled to',
    scaled,
    note,
  );
}

import type { LaidOver, ScaledTo } from '../changes/address.ts';
import { smallForm } from '../changes/forms.ts';
import { h } from '../dom.ts';
import type { CurvesView, NamedSpectrum, PlainSpectrum } from '../reading.ts';

export const SCALED_TO: Readonly<Record<ScaledTo, string>> = {
  time: 'live time',
  counts: 'all counts',
  peak: 'peak at the cursor',
};
/** Half of the stretch that is taken for a peak, eV: about half of its width. */
const PEAK_EV = 60;

/** What can be laid over: a spectrum of the list, or those that a plan proposes. */
export interface OtherSpectrum {
  /** Of the spectrum; '' for the planned ones. */
  readonly id: string;
  readonly name: string;
  /** Each with its name. */
  readonly spectra: () => Promise<readonly NamedSpectrum[]>;
}

/** Another spectrum as it is drawn. */
export interface Overlay extends LaidOver {
  readonly name: string;
  readonly energyEv: readonly number[];
  readonly counts: readonly number[];
}

/** Another spectrum with its counts per eV scaled to those of this one. @throws RangeError where there is nothing to scale to */
export function overlaid(laid: LaidOver, name: string, other: PlainSpectrum, own: PlainSpectrum): Overlay {
  const { to, atEv } = laid;
  const factor = factorOf(other, own, to, atEv);
  const perChannel = own.gainEv / other.gainEv;
  // Live time says how long, so channels of another width must be told apart; sums of counts say it all.
  const counts = Array.from(other.counts, (value) => value * factor * perChannel);
  return { ...laid, name, energyEv: counts.map((_, i) => other.offsetEv + other.gainEv * i), counts };
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
  throw new RangeError(
    to === 'time'
      ? 'One of the two files does not state its live time.'
      : 'One of the two spectra has no counts there.',
  );
}

/** The highest that is drawn at each channel: fit, counts, and what lies over them; counts. */
export function topsOf({ energyEv, counts, total }: CurvesView, overlays: readonly Overlay[]): Float64Array {
  return Float64Array.from(counts, (value, i) => {
    const over = overlays.map((overlay) => {
      const [first = 0, second = 1] = overlay.energyEv;
      return overlay.counts[Math.round((energyEv[i] - first) / (second - first))] ?? 0;
    });
    return Math.max(value, total[i], ...over);
  });
}

/** The choice of spectra to lay over this one, one after the other. @param usual what they are scaled to where nothing else is chosen */
export function overlayForm(
  others: readonly OtherSpectrum[],
  usual: ScaledTo,
  add: (other: OtherSpectrum, to: ScaledTo) => Promise<void>,
): HTMLElement {
  const which = h('select', { id: 'overlay' }, h('option', { value: '' }, 'choose a spectrum'));
  const scaled = h(
    'select',
    { 'aria-label': 'Scaled to' },
    Object.entries(SCALED_TO).map(([value, text]) => h('option', { value, selected: value === usual }, text)),
  );
  // Filled when it is asked for: a session may have thousands.
  which.addEventListener(
    'focus',
    () => which.append(...others.map(({ name }, i) => h('option', { value: String(i) }, name))),
    { once: true },
  );
  const act = async (): Promise<void> => {
    const other = which.value === '' ? undefined : others[Number(which.value)];
    which.value = '';
    if (other) await add(other, scaled.value as ScaledTo);
  };
  const label = h('label', { for: 'overlay' }, 'Overlay');
  const addIt = h('button', { type: 'submit', id: 'lay-over' }, 'add');
  return smallForm('Other spectra', act, [label, which, h('span', {}, 'scaled to'), scaled, addIt], 'marks');
}

/** What lies over the figure, each with a button that takes it away. */
export const overlayList = (
  overlays: readonly Overlay[],
  textOf: (overlay: Overlay, i: number) => string,
  remove: (i: number) => void,
): HTMLElement[] =>
  overlays.map((overlay, i) =>
    h(
      'li',
      {},
      `${textOf(overlay, i)} `,
      h(
        'button',
        { type: 'button', class: 'chip', 'aria-label': `Remove: ${overlay.name}`, onclick: () => remove(i) },
        'remove ×',
      ),
    ),
  );

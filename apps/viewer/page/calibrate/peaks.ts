import { axisThrough, CALIBRATE_WORDS, type Changes, keV, lineName, peakCentre } from '@limner/core';
import { type Apply, beamField, numberOf, sendButton, smallForm } from '../changes/forms.ts';
import { h } from '../dom.ts';
import { ELEMENT_NAMES, elementIn, elementNames } from '../element-field.ts';
import { linesToMark } from '../reader.ts';
import { channelPicture } from './picture.ts';

/** Excites the lines that serve to calibrate: which of them a beam of the file excites is not known yet. */
const BEAM_KEV = 30;
/** Lines that stand in one peak with the chosen one, eV: what is measured is the middle of all. */
const SAME_PEAK_EV = 45;

/** Two known peaks on the file's own counts give its axis: each is clicked or typed, and its line chosen. */
export function peaksForm(counts: readonly number[], changes: Changes, apply: Apply): HTMLElement {
  const rows = [peakRow(1), peakRow(2)];
  const picture = channelPicture(counts, (channel) => {
    const free = rows.find((row) => row.channel() === null) ?? rows.find((row) => row.isNext()) ?? rows[0];
    for (const row of rows) row.next(row !== free);
    free.set(peakCentre(counts, channel));
    markThem();
  });
  const markThem = (): void => picture.mark(rows.map((row) => row.channel()));
  const act = (form: HTMLFormElement): void => {
    const [a, b] = rows.map((row) => row.peak());
    if (!a || !b) throw new RangeError('Give a channel and a line for both peaks.');
    apply({ ...changes, axis: rounded(axisThrough(a, b)), beamKev: numberOf(form, 'beam') });
  };
  const last = h('div', { class: 'argument' }, beamField(changes), sendButton('Read with this axis'));
  const fields = [...rows.map(({ element }) => element), last, elementNames()];
  return h(
    'section',
    { class: 'calibrate', 'aria-labelledby': 'calibrate-title', onchange: markThem },
    h('h2', { id: 'calibrate-title' }, CALIBRATE_WORDS.title),
    h('p', { class: 'lead-in' }, CALIBRATE_WORDS.lead),
    picture.element,
    smallForm('Two known peaks', act, fields, 'peaks'),
  );
}

/** As the address carries it: far below what the fit makes of it. */
const rounded = ({ gainEv, offsetEv }: { readonly gainEv: number; readonly offsetEv: number }) => ({
  gainEv: Number(gainEv.toFixed(6)),
  offsetEv: Number(offsetEv.toFixed(3)),
});

function peakRow(number: number) {
  const note = h('span', { class: 'note', role: 'status' });
  const channel = h('input', {
    type: 'number',
    step: 'any',
    min: 0,
    required: true,
    'aria-label': `Channel of peak ${number}`,
  });
  const line = h(
    'select',
    { 'aria-label': `Line of peak ${number}`, required: true },
    h('option', { value: '' }, 'enter the element first'),
  );
  const offer = async (typed: string): Promise<void> => {
    const symbol = elementIn(typed);
    const lines = (await linesToMark(symbol, BEAM_KEV)).filter(({ strength }) => strength > 0.1);
    const told = lines.map((one) => {
      const near = lines.filter(({ energyEv }) => Math.abs(energyEv - one.energyEv) < SAME_PEAK_EV);
      const weight = near.reduce((sum, { strength }) => sum + strength, 0);
      const middle = near.reduce((sum, { strength, energyEv }) => sum + strength * energyEv, 0) / weight;
      return h('option', { value: Number(middle.toFixed(1)) }, `${symbol} ${lineName(one)}, ${keV(one.energyEv)}`);
    });
    line.replaceChildren(...told);
  };
  const named = (event: Event): void => {
    note.textContent = '';
    offer((event.target as HTMLInputElement).value).catch(({ message }: Error) => (note.textContent = message));
  };
  const element = h(
    'div',
    { class: 'argument' },
    h('label', {}, `Peak ${number}, channel`, channel),
    h('label', {}, 'element', h('input', { list: ELEMENT_NAMES, autocomplete: 'off', onchange: named })),
    h('label', {}, 'line', line),
    note,
  );
  const at = (): number | null => (channel.value === '' ? null : Number(channel.value));
  let isNext = number === 1;
  return {
    element,
    channel: at,
    set: (value: number) => void (channel.value = String(Number(value.toFixed(2)))),
    peak: () => {
      const where = at();
      return where === null || line.value === '' ? null : { channel: where, energyEv: Number(line.value) };
    },
    /** Whether the next click is for this peak, where both have a channel. */
    isNext: () => isNext,
    next: (value: boolean) => void (isNext = value),
  };
}

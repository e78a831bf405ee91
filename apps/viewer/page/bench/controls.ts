import { BENCH_LIMITS, type BenchPart, type BenchState } from '@limner/core';
import { h } from '../dom.ts';
import { swatch } from './figure.ts';

/** A number with a slider and a field for the same value; both are native inputs under one label. */
interface NumberSetting {
  readonly key: 'beamKev' | 'fwhmMnEv' | 'counts';
  readonly label: string;
  readonly unit: string;
  readonly step: number;
  /** From the slider's place to the value and back. */
  readonly of: (place: number) => number;
  readonly place: (value: number) => number;
}

const same = (value: number): number => value;
/** Counts by their logarithm, in steps of a twentieth of a decade, to two figures. */
const countsOf = (place: number): number => Number((10 ** place).toPrecision(2));

const SETTINGS: readonly NumberSetting[] = [
  { key: 'beamKev', label: 'Beam energy', unit: 'keV', step: 0.5, of: same, place: same },
  { key: 'fwhmMnEv', label: 'Resolution (FWHM at 5.9 keV)', unit: 'eV', step: 1, of: same, place: same },
  { key: 'counts', label: 'Counts', unit: '', step: 0.05, of: countsOf, place: Math.log10 },
];

/** The form over a state. It calls back with the next state; it draws itself anew only where parts come or go. */
export class Controls {
  readonly #form: HTMLFormElement;
  readonly #question: HTMLElement;
  readonly #changed: (state: BenchState) => void;
  #state: BenchState;
  #elements: readonly string[] = [];

  /** @param question where what is taken out is chosen, beside the result */
  constructor(form: HTMLFormElement, question: HTMLElement, state: BenchState, changed: (state: BenchState) => void) {
    this.#form = form;
    this.#question = question;
    this.#state = state;
    this.#changed = changed;
    form.addEventListener('submit', (event) => event.preventDefault());
    this.show(state);
  }

  /** Shows a state that came from elsewhere: an address or a lesson. */
  show(state: BenchState): void {
    this.#state = state;
    this.#form.replaceChildren(this.#parts(), this.#measurement());
    this.#question.replaceChildren(...this.#takeOut());
  }

  /** While a prediction is awaited nothing can be moved. */
  hold(held: boolean): void {
    this.#form.inert = held;
    this.#question.inert = held;
  }

  /** Elements of the present mixture that can be taken out. */
  offer(elements: readonly string[]): void {
    if (elements.join() === this.#elements.join()) return;
    this.#elements = elements;
    this.#question.replaceChildren(...this.#takeOut());
  }

  #set(change: Partial<BenchState>): void {
    this.#state = { ...this.#state, ...change };
    this.#changed(this.#state);
  }

  #parts(): HTMLElement {
    const { parts } = this.#state;
    const most = BENCH_LIMITS.parts[1];
    const add = (): void => {
      this.#set({ parts: [...parts, { of: 'chalk', share: 10 }] });
      this.show(this.#state);
    };
    return h(
      'fieldset',
      { class: 'parts' },
      h('legend', {}, 'Parts by mass'),
      parts.map((part, i) => this.#part(part, i)),
      parts.length < most ? h('button', { type: 'button', onclick: add }, 'Add a part') : null,
    );
  }

  #part(part: BenchPart, i: number): HTMLElement {
    const change = (next: Partial<BenchPart>): void =>
      this.#set({ parts: this.#state.parts.map((one, k) => (k === i ? { ...one, ...next } : one)) });
    const drop = (): void => {
      this.#set({ parts: this.#state.parts.filter((_, k) => k !== i) });
      this.show(this.#state);
    };
    const [least, most] = BENCH_LIMITS.share;
    return h(
      'div',
      { class: 'part' },
      swatch(i + 1),
      h('input', {
        type: 'text',
        value: part.of,
        list: 'materials',
        'aria-label': `Part ${i + 1}: formula or material`,
        autocomplete: 'off',
        spellcheck: 'false',
        onchange: (event) => change({ of: (event.target as HTMLInputElement).value.trim() }),
      }),
      h('input', {
        type: 'number',
        value: part.share,
        min: least,
        max: most,
        step: 'any',
        'aria-label': `Part ${i + 1}: share by mass`,
        oninput: (event) => {
          const share = (event.target as HTMLInputElement).valueAsNumber;
          if (share >= least && share <= most) change({ share });
        },
      }),
      this.#state.parts.length > 1
        ? h('button', { type: 'button', class: 'drop', 'aria-label': `Remove part ${i + 1}`, onclick: drop }, '×')
        : null,
    );
  }

  #measurement(): HTMLElement {
    return h(
      'fieldset',
      {},
      h('legend', {}, 'Measurement'),
      SETTINGS.map((setting) => this.#number(setting)),
      this.#grain(),
      this.#noise(),
    );
  }

  #number({ key, label, unit, step, of, place }: NumberSetting): HTMLElement {
    const [least, most] = BENCH_LIMITS[key];
    const field = h('input', {
      type: 'number',
      id: `${key}-field`,
      value: this.#state[key],
      min: least,
      max: most,
      step: 'any',
    });
    const slider = h('input', {
      type: 'range',
      id: key,
      value: place(this.#state[key]),
      min: place(least),
      max: place(most),
      step,
      'aria-valuetext': `${this.#state[key]} ${unit}`,
    });
    slider.addEventListener('input', () => {
      const value = Math.min(most, Math.max(least, of(slider.valueAsNumber)));
      field.value = String(value);
      slider.setAttribute('aria-valuetext', `${value} ${unit}`);
      this.#set({ [key]: value });
    });
    field.addEventListener('input', () => {
      const value = field.valueAsNumber;
      if (!(value >= least && value <= most)) return;
      slider.value = String(place(value));
      this.#set({ [key]: value });
    });
    return h(
      'div',
      { class: 'setting' },
      h('label', { for: key }, label),
      slider,
      h(
        'label',
        { class: 'field' },
        h('span', { class: 'hidden' }, `${label}, as a number`),
        field,
        unit ? ` ${unit}` : null,
      ),
    );
  }

  #grain(): HTMLElement {
    const { grainUm } = this.#state;
    const [least, most] = BENCH_LIMITS.grainUm;
    const field = h('input', {
      type: 'number',
      value: grainUm ?? 5,
      min: least,
      max: most,
      step: 'any',
      'aria-label': 'Diameter of the grain, µm',
    });
    field.disabled = grainUm === null;
    const box = h('input', { type: 'checkbox', checked: grainUm !== null });
    const change = (): void => {
      field.disabled = !box.checked;
      const value = field.valueAsNumber;
      if (!box.checked || (value >= least && value <= most)) this.#set({ grainUm: box.checked ? value : null });
    };
    box.addEventListener('change', change);
    field.addEventListener('input', change);
    return h(
      'div',
      { class: 'setting row' },
      h('label', {}, box, ' a grain of '),
      field,
      h('span', {}, ' µm in resin'),
    );
  }

  #noise(): HTMLElement {
    const [least, most] = BENCH_LIMITS.seed;
    const box = h('input', { type: 'checkbox', checked: this.#state.noise });
    box.addEventListener('change', () => this.#set({ noise: box.checked }));
    const seed = h('input', {
      type: 'number',
      value: this.#state.seed,
      min: least,
      max: most,
      step: 1,
      'aria-label': 'Seed of the noise',
    });
    seed.addEventListener('input', () => {
      if (seed.valueAsNumber >= least && seed.valueAsNumber <= most)
        this.#set({ seed: Math.round(seed.valueAsNumber) });
    });
    return h('div', { class: 'setting row' }, h('label', {}, box, ' counting noise, seed '), seed);
  }

  #takeOut(): Node[] {
    const { out } = this.#state;
    const symbols = out === null || this.#elements.includes(out) ? this.#elements : [...this.#elements, out];
    const select = h(
      'select',
      { id: 'out' },
      h('option', { value: '' }, 'nothing'),
      symbols.map((symbol) => h('option', { value: symbol, selected: symbol === out }, symbol)),
    );
    select.addEventListener('change', () => this.#set({ out: select.value || null }));
    return [h('label', { for: 'out' }, 'Take out of the explanation: '), select];
  }
}

import { h } from '../dom.ts';

/** What part of the spectrum is shown, and on which scale. */
export interface Sight {
  readonly show: 'around' | 'all' | 'own';
  readonly fromKev: number;
  readonly toKev: number;
  readonly scale: 'linear' | 'log';
}

export const FIRST_SIGHT: Sight = { show: 'around', fromKev: 0, toKev: 10, scale: 'linear' };

/** Half of the energy shown around an element's strongest peak, keV. */
const AROUND_KEV = 0.7;
const LEAST_KEV = 0.1;

/** The energies in sight, keV. @param peakEv strongest peak of the element taken out; null where none is known */
export function rangeKevOf({ show, fromKev, toKev }: Sight, peakEv: number | null, beamKev: number): [number, number] {
  if (show === 'own') return [fromKev, Math.max(fromKev + LEAST_KEV, Math.min(toKev, beamKev))];
  if (show === 'all' || peakEv === null) return [0, beamKev];
  const centre = peakEv / 1000;
  return [Math.max(0, centre - AROUND_KEV), Math.min(beamKev, centre + AROUND_KEV)];
}

export function sightControls(sight: Sight, changed: (sight: Sight) => void): HTMLElement {
  let now = sight;
  const own = h('span', { hidden: true });
  const set = (change: Partial<Sight>): void => {
    now = { ...now, ...change };
    own.hidden = now.show !== 'own';
    changed(now);
  };
  own.append(
    energy('Show from, keV', now.fromKev, (fromKev) => set({ fromKev })),
    ' to ',
    energy('Show to, keV', now.toKev, (toKev) => set({ toKev })),
    ' keV ',
  );
  return h(
    'div',
    { class: 'sight' },
    choice(
      'Show',
      [
        ['around', 'around its peak'],
        ['all', 'the whole spectrum'],
        ['own', 'from … to …'],
      ],
      (show) => set({ show }),
    ),
    ' ',
    own,
    choice(
      'Scale of the counts',
      [
        ['linear', 'linear'],
        ['log', 'logarithmic'],
      ],
      (scale) => set({ scale }),
    ),
  );
}

function choice<T extends string>(
  label: string,
  options: readonly (readonly [T, string])[],
  set: (value: T) => void,
): HTMLElement {
  const select = h(
    'select',
    {},
    options.map(([value, text]) => h('option', { value }, text)),
  );
  select.addEventListener('change', () => set(select.value as T));
  return h('label', {}, `${label}: `, select, ' ');
}

function energy(label: string, value: number, set: (kev: number) => void): HTMLElement {
  const field = h('input', { type: 'number', value, min: 0, max: 30, step: 0.1, 'aria-label': label });
  field.addEventListener('input', () => {
    if (field.valueAsNumber >= 0 && field.valueAsNumber <= 30) set(field.valueAsNumber);
  });
  return field;
}

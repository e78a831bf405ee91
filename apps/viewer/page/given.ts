import { h } from './dom.ts';

/** What a person states of a spectrum that its file does not say, or says wrongly. */
export interface Given {
  readonly beamKev?: number;
  /** eV per channel, and energy of channel 0 in eV. */
  readonly axis?: { readonly gainEv: number; readonly offsetEv: number };
}

/** The same for an address: '?beam=20&gain=10&offset=0'; '' when nothing is stated. */
export function queryOf({ beamKev, axis }: Given): string {
  const parts = [
    ...(beamKev === undefined ? [] : [`beam=${beamKev}`]),
    ...(axis ? [`gain=${axis.gainEv}`, `offset=${axis.offsetEv}`] : []),
  ];
  return parts.length > 0 ? `?${parts.join('&')}` : '';
}

/** A small form that asks for beam energy and axis; a file's own axis comes first. */
export function givenForm(onGiven: (given: Given) => void): HTMLElement {
  const field = (name: string, label: string, least: string, placeholder: string) =>
    h('label', {}, label, h('input', { name, type: 'number', step: 'any', min: least || null, placeholder }));
  return h(
    'form',
    {
      class: 'given filters',
      'aria-label': 'Beam energy and axis',
      onsubmit: (event) => {
        event.preventDefault();
        const data = new FormData(event.target as HTMLFormElement);
        const value = (name: string): number | null => {
          const text = data.get(name);
          return typeof text === 'string' && text.trim() !== '' ? Number(text) : null;
        };
        const [beam, gain] = [value('beam'), value('gain')];
        onGiven({
          ...(beam !== null && { beamKev: beam }),
          ...(gain !== null && { axis: { gainEv: gain, offsetEv: value('offset') ?? 0 } }),
        });
      },
    },
    field('beam', 'Beam energy, keV', '0.5', 'as the file says'),
    field('gain', 'eV per channel', '0.01', 'where the file has channels only'),
    field('offset', 'Energy of channel 0, eV', '', '0'),
    h('button', { type: 'submit' }, 'Read with these'),
  );
}

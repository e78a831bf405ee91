import { type EnergyAxis, MOUNT_NAMES } from '@limner/core';

/** What a row of the sample sheet states of the measurement, in place of what was stated of all spectra. */
export interface Stated {
  readonly beamKev?: number;
  /** For a file whose header has channels only. */
  readonly axis?: EnergyAxis;
  readonly mount?: readonly string[];
}

/** Columns of the sheet that state it: keV; eV per channel and energy of channel 0 in eV; names of mountings with + between them. */
export const STATED_COLUMNS = ['beam_kev', 'gain_ev', 'offset_ev', 'mount'] as const;
type Column = (typeof STATED_COLUMNS)[number];

/** Null where the row states nothing. @throws Error with what is wrong in a cell */
export function statedIn(cell: (name: Column) => string): Stated | null {
  const beamKev = numberIn('beam_kev', cell, 0);
  const gainEv = numberIn('gain_ev', cell, 0);
  const offsetEv = numberIn('offset_ev', cell, -Infinity);
  if (gainEv === null && offsetEv !== null) throw new Error('offset_ev needs gain_ev, the eV per channel, beside it');
  const mount = mountIn(cell('mount'));
  const stated = {
    ...(beamKev !== null && { beamKev }),
    ...(gainEv !== null && { axis: { gainEv, offsetEv: offsetEv ?? 0 } }),
    ...(mount.length > 0 && { mount }),
  };
  return Object.keys(stated).length > 0 ? stated : null;
}

function numberIn(name: Column, cell: (name: Column) => string, above: number): number | null {
  const text = cell(name);
  if (text === '') return null;
  const value = Number(text.replace(',', '.'));
  if (Number.isFinite(value) && value > above) return value;
  throw new Error(`${name} '${text}': give a number${above === 0 ? ' above 0' : ''}, like ${EXAMPLES[name]}`);
}

const EXAMPLES: Readonly<Record<Column, string>> = { beam_kev: '20', gain_ev: '10', offset_ev: '-96', mount: 'resin' };

function mountIn(text: string): string[] {
  const names = text
    .split(/[+;]/)
    .map((name) => name.trim())
    .filter((name) => name !== '');
  const wrong = names.find((name) => !MOUNT_NAMES.includes(name));
  if (wrong === undefined) return names;
  throw new Error(
    `mount '${wrong}': not a known mounting; use one or more of ${MOUNT_NAMES.join(', ')}, with + between`,
  );
}

import { axisText } from '../../spectrum/axis-rules.ts';
import type { ColumnEnergies, FileWarning, FileWarningValues, UnreadableKeyword } from '../../spectrum/file-warning.ts';
import { quoted } from '../../spectrum/quoted.ts';

/** What the reader of a file says about it, in words; values as the file has them. */
export function fileWarningText(warning: FileWarning): string {
  if (isUnreadable(warning)) return `#${warning.keyword}: ${quoted(warning.found)} is not a number.`;
  return (TEXTS[warning.code] as (values: FileWarning) => string)(warning);
}

const isUnreadable = (warning: FileWarning): warning is UnreadableKeyword => warning.code.endsWith('-unreadable');

type Texts = { readonly [Code in keyof FileWarningValues]: (values: FileWarningValues[Code]) => string };

const TEXTS: Texts = {
  'latin-1': () => 'The text is not UTF-8; its accented letters and signs were read as Latin-1.',
  'format-missing': () => 'The FORMAT line does not say EMSA/MAS; the file was read as EMSA/MAS anyway.',
  'spectrum-missing': ({ line }) => `The SPECTRUM line is missing; the data begin in line ${line}.`,
  'endofdata-missing': () => 'The ENDOFDATA line is missing; the file may have been cut short.',
  'second-spectrum': ({ line }) => `Another spectrum begins in line ${line}; only the first was read.`,
  'text-after-end': ({ line }) => `The text after ENDOFDATA (line ${line}) was not read.`,
  'stray-text': ({ line, found }) => `Line ${line}, ${quoted(found)}, has no keyword; it was not read.`,
  'colon-missing': ({ line, found }) => `Line ${line}, ${quoted(found)}, has no colon after the keyword.`,
  'keyword-in-data': ({ line, keyword }) =>
    `Line ${line}: ${quoted(`#${keyword}`)} is among the data; it was kept as a keyword.`,
  'keyword-repeated': ({ line, keyword }) => `#${keyword} appears again in line ${line}; the first one was used.`,
  'keyword-unknown': ({ keyword }) =>
    `${quoted(`#${keyword}`)} is not a keyword of the standard; it was kept but not used.`,
  'unit-unknown': ({ keyword, found }) =>
    `#${keyword}: the unit ${quoted(found)} is unknown; the standard's unit was assumed.`,
  'decimal-comma-header': ({ keyword, found }) => `#${keyword}: ${quoted(found)} was read with a decimal comma.`,
  'decimal-comma': ({ line }) => `Decimal commas were read as decimal points (from line ${line}).`,
  'columns-read': ({ axis, energies, unreadColumns }) => {
    const rest = unreadColumns > 0 ? ` Columns not read: ${unreadColumns}.` : '';
    return `Read as plain columns, not EMSA/MAS: ${energiesText(energies)}; ${axisText(axis)}.${rest}`;
  },
  'npoints-missing': () => 'NPOINTS is missing or not a whole number; the channels were counted.',
  'npoints-mismatch': ({ stated, found }) =>
    `NPOINTS says ${stated} channels, but the data hold ${found}; the data were used.`,
  'datatype-mismatch': ({ readAs }) =>
    readAs === 'Y'
      ? 'DATATYPE says XY, but the data are counts alone; they were read as Y.'
      : 'DATATYPE does not say XY, but each row holds an energy and its counts; they were read as XY.',
  'cut-off': () => 'The file stops in the middle of its data; the last channel, perhaps incomplete, was left out.',
  'counts-not-integer': () =>
    'Some counts are not whole numbers (an average, or processed data): counting statistics hold only roughly.',
  'yunits-rate': () =>
    'YUNITS is counts per unit time: without the counts themselves, the counting statistics are unknown.',
  'peaks-removed': ({ kinds }) =>
    `The file says that ${kinds.join(' and ')} peaks were removed from the counts before they were stored.`,
  'signal-type': ({ found }) => `SIGNALTYPE is ${quoted(found)}, not EDS; it was read as an X-ray spectrum anyway.`,
  'times-inconsistent': ({ liveTimeS, realTimeS }) =>
    `The live time of ${liveTimeS} s exceeds the real time of ${realTimeS} s.`,
  'beam-absurd': ({ kv }) => `A BEAMKV of ${kv} kV is impossible; the beam energy was treated as missing.`,
  'beam-high': ({ kv }) =>
    `${kv} kV is the beam energy of a transmission instrument: amounts computed for a bulk specimen do not hold for a thin one.`,
  'beam-in-volts': ({ volts, kv }) => `A BEAMKV of ${volts} can only be in volts; ${kv} kV was used.`,
  'beam-overridden': ({ statedKv, givenKv }) =>
    `The file says ${statedKv} kV; the ${givenKv} kV that you gave was used.`,
  'axis-option-unused': ({ axis }) =>
    `The file has its own energy axis (${axisText(axis)}); the one that you gave was not used.`,
  'x-column-conflict': ({ axis }) =>
    `The energy column does not follow OFFSET and XPERCHAN (${axisText(axis)}), which were used; check the axis.`,
  'xunits-assumed': ({ width, unit }) => `XUNITS gives no unit; a channel width of ${width} can only be in ${unit}.`,
  'xunits-conflict': ({ width, stated, unit }) =>
    `XUNITS says ${stated}, but a channel width of ${width} can only be in ${unit}; ${unit} was used.`,
  'offset-missing': ({ fromChoffsetEv }) => {
    const taken =
      fromChoffsetEv === null ? 'the axis was taken to start at 0' : `${fromChoffsetEv} eV follows from CHOFFSET`;
    return `OFFSET is missing; ${taken}.`;
  },
  'choffset-mismatch': ({ choffset, offsetEv }) =>
    `CHOFFSET ${choffset} contradicts an OFFSET of ${offsetEv} eV; OFFSET was used.`,
};

function energiesText(energies: ColumnEnergies): string {
  switch (energies.from) {
    case 'given-without-column':
      return 'counts alone, with the given axis';
    case 'given-for-channels':
      return 'counts by channel, with the given axis';
    case 'heading':
      return `energy in ${energies.unit} (the heading says so) and counts`;
    case 'size':
      return `energy in ${energies.unit} (judged by its size) and counts`;
  }
}

import { axisText } from './axis-rules.ts';
import type { EnergyAxis, EnergyUnit } from './energy-axis.ts';
import { MAX_CHANNELS, MAX_INPUT_BYTES, MIN_CHANNELS } from './limits.ts';
import { quoted } from './quoted.ts';

const GIVE_AXIS = 'Give the axis yourself: eV per channel, and the energy of channel 0 in eV.';
const RIGHT_FILE = 'Is this the right file?';
const EXPORT_AGAIN = 'Export the spectrum again.';

/** Every reason to refuse an input: its code, its values, what is wrong and what to do. Lower case, as the place may stand in front. */
const FAULTS = {
  'too-large': ({ bytes }: { readonly bytes: number }) =>
    `the file is ${megabytes(bytes)}; at most ${megabytes(MAX_INPUT_BYTES)} can be read. Is it a spectrum?`,
  'axis-option': () => 'the axis given needs eV per channel above zero and a finite offset in eV.',
  'beam-option': () => 'the beam energy given must be a number of keV above zero.',
  'binary-file': () =>
    'this is a binary file, not text. Export the spectrum as an EMSA/MAS file or as two columns, energy and counts.',
  'empty-file': () => `the file is empty. ${EXPORT_AGAIN}`,
  'not-a-spectrum': ({ start }: { readonly start: string }) =>
    `no EMSA/MAS keywords and no rows of numbers were found (it begins ${quoted(start)}). ${RIGHT_FILE}`,
  'header-too-long': ({ what }: { readonly what: 'line' | 'header' }) =>
    `${what === 'line' ? 'this line' : 'the header'} is too long for a spectrum. ${RIGHT_FILE}`,
  'no-data': () => `the file has a header but no counts. ${EXPORT_AGAIN}`,
  'data-unreadable': ({ text }: { readonly text: string }) =>
    `${quoted(text)} is not a number. Correct the line, or export the spectrum again.`,
  'empty-field': () => 'a field before a number is empty. Fill it in, or export the spectrum again.',
  'decimal-comma': ({ text }: { readonly text: string }) =>
    `in ${quoted(text)} the comma may be a decimal comma or a thousands separator. Export with decimal points.`,
  'row-width': ({ found, first }: { readonly found: number; readonly first: number }) =>
    `this row has ${found} numbers, the first has ${first}. Correct the row, or export the spectrum again.`,
  'data-ambiguous': (values: AmbiguousData) => `${ambiguousText(values)}. ${EXPORT_AGAIN}`,
  'too-few-channels': ({ channels }: { readonly channels: number }) => channelsText(String(channels)),
  'too-many-channels': ({ channels }: { readonly channels: number | 'beyond' }) =>
    channelsText(channels === 'beyond' ? `more than ${MAX_CHANNELS}` : String(channels)),
  'counts-not-finite': ({ channel }: BadCount) =>
    `the counts of channel ${channel} are not a finite number. ${EXPORT_AGAIN}`,
  'counts-negative': ({ channel, value }: BadCount) =>
    `the counts of channel ${channel} are negative (${value}). Export the counts as measured, without subtracting a background.`,
  'counts-absurd': ({ channel, value }: BadCount) =>
    `the counts of channel ${channel} are ${value}, more than can be measured. ${EXPORT_AGAIN}`,
  'xperchan-not-positive': ({ text }: { readonly text: string }) =>
    `XPERCHAN is ${quoted(text)}; the width of a channel must be above zero. ${GIVE_AXIS}`,
  'axis-not-energy': ({ text }: { readonly text: string }) =>
    `XUNITS is ${quoted(text)}, not an energy, so this is not an X-ray spectrum against energy. ${GIVE_AXIS}`,
  'axis-not-linear': ({ why }: { readonly why: 'not-rising' | 'uneven' }) =>
    why === 'uneven'
      ? 'the energies of the first column are not evenly spaced. Export the spectrum with channels of equal width.'
      : `the first column must be the energy, rising from row to row; it is not. ${EXPORT_AGAIN}`,
  'axis-in-channels': ({ why }: { readonly why: keyof typeof IN_CHANNELS }) => `${IN_CHANNELS[why]}. ${GIVE_AXIS}`,
  'axis-absurd': ({ unit, stated }: { readonly unit: EnergyUnit; readonly stated: StatedAxis }) =>
    'gainEv' in stated
      ? `energies in ${unit} give an axis (${axisText(stated)}) that no X-ray spectrum has. Check the unit in the heading.`
      : `XPERCHAN ${quoted(stated.xperchan)} and OFFSET ${quoted(stated.offset)} in ${unit} give an axis that no X-ray spectrum has. ${GIVE_AXIS}`,
};

/** Why an input is no spectrum: a stable code with its values. */
export type ReadingFault = {
  [Code in keyof typeof FAULTS]: { readonly code: Code } & ValuesOf<Code>;
}[keyof typeof FAULTS];

type ValuesOf<Code extends keyof typeof FAULTS> =
  Parameters<(typeof FAULTS)[Code]> extends [infer Values] ? Values : unknown;

export function faultText(fault: ReadingFault): string {
  return (FAULTS[fault.code] as (values: ReadingFault) => string)(fault);
}

/** Whether an axis given with the input would mend it. */
export const asksForAxis = (fault: ReadingFault): boolean => faultText(fault).endsWith(GIVE_AXIS);

interface BadCount {
  readonly channel: number;
  readonly value: number;
}

type AmbiguousData =
  { readonly why: 'half-a-pair' | 'no-pairs' } | { readonly why: 'wide-rows'; readonly width: number };

type StatedAxis = EnergyAxis | { readonly xperchan: string; readonly offset: string };

const IN_CHANNELS = {
  'counts-alone': 'the file holds counts without energies',
  'unit-unsaid': 'the first column does not say whether it is in eV or keV',
  'not-calibrated': 'the file has no energy calibration, only channels',
} as const;

function ambiguousText(data: AmbiguousData): string {
  switch (data.why) {
    case 'half-a-pair':
      return 'an energy has no counts after it';
    case 'no-pairs':
      return 'DATATYPE says XY, but the data are not pairs of a rising energy and its counts';
    case 'wide-rows':
      return `each row has ${data.width} numbers, but the header announces one (decimal commas?)`;
  }
}

const channelsText = (found: string): string =>
  `there are ${found} channels; a spectrum has ${MIN_CHANNELS} to ${MAX_CHANNELS}. ${RIGHT_FILE}`;

const megabytes = (bytes: number): string => `${Math.ceil(bytes / 2 ** 20)} MB`;

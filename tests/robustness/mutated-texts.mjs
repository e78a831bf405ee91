// Texts of spectra with a few changes, by the million: each is read, or refused with a clear error.
//   npm run build && node tests/robustness/mutated-texts.mjs [--number 10000000] [--seed 1]     some 40 s for a million
// Prints how often each outcome came. Exit code 1, and the texts, where anything else happened.
import { parseArgs } from 'node:util';
import { EmsaError, readSpectrum } from '@limner/core';

const { values } = parseArgs({
  options: { number: { type: 'string', default: '10000000' }, seed: { type: 'string', default: '1' } },
});
let state = Number(values.seed);
/** A whole number below n (Lehmer, 1951, with the multiplier of Park and Miller, 1988; recalled). */
const below = (n) => (state = (state * 48_271) % 2_147_483_647) % n;
const one = (list) => list[below(list.length)];

const COUNTS = [0, 1, 3, 7, 12, 18, 25, 33, 42, 52, 63, 75, 88, 74, 61, 49];
const HEADER = [
  '#FORMAT      : EMSA/MAS Spectral Data File',
  '#VERSION     : 1.0',
  '#TITLE       : Invented',
  '#NPOINTS     : 16',
  '#NCOLUMNS    : 1',
  '#XUNITS      : keV',
  '#YUNITS      : counts',
  '#DATATYPE    : Y',
  '#XPERCHAN    : 0.01',
  '#OFFSET      : -0.1',
  '#BEAMKV   -kV: 15',
  '#LIVETIME  -s: 60',
];
const PAIRS = COUNTS.map((count, i) => `${(0.01 * i).toFixed(2)}, ${count}`);
const TEXTS = [
  [...HEADER, '#SPECTRUM    : ', ...COUNTS, '#ENDOFDATA   : '],
  [...HEADER.map((line) => line.replace(': Y', ': XY')), '#SPECTRUM    : ', ...PAIRS, '#ENDOFDATA   : '],
  ['Energy (keV);Counts', ...PAIRS.map((pair) => pair.replace(',', ';'))],
].map((lines) => lines.map(String));
const PIECES = [
  '',
  '-1',
  '1e999',
  'NaN',
  '-0',
  '0x10',
  '1,5',
  ',',
  ';',
  '\t',
  '\r',
  '#',
  '##',
  ':',
  '\u0000',
  '\u001b[2J',
  '\ufeff',
  '٣',
  'é',
];
PIECES.push(
  '#SPECTRUM    : ',
  '#ENDOFDATA   : ',
  '#NPOINTS     : 4294967296',
  '#XPERCHAN    : 0',
  'eV',
  'channel',
  '9'.repeat(40),
  ' '.repeat(60),
);

const CHANGES = [
  (lines) => void lines.splice(below(lines.length), 1),
  (lines) => void lines.splice(below(lines.length), 0, one(lines)),
  (lines) => void lines.splice(below(lines.length), 0, one(PIECES)),
  (lines) => {
    const [a, b] = [below(lines.length), below(lines.length)];
    [lines[a], lines[b]] = [lines[b], lines[a]];
  },
  (lines) => {
    const at = below(lines.length);
    const place = below(lines[at].length + 1);
    lines[at] = lines[at].slice(0, place) + one(PIECES) + lines[at].slice(place + below(4));
  },
  (lines) => {
    const at = below(lines.length);
    lines[at] = lines[at].replace(/-?[\d.]+(?!.*\d)/, one(PIECES));
  },
  (lines) => void (lines.length = 1 + below(lines.length)),
];

function changed() {
  const lines = [...one(TEXTS)];
  for (let k = 1 + below(4); k > 0 && lines.length > 0; k--) one(CHANGES)(lines);
  return lines.join(one(['\n', '\n', '\r\n', '\r']));
}

const encoder = new TextEncoder();
const isClear = ({ code, message }) =>
  // eslint-disable-next-line no-control-regex -- these are meant
  /^[a-z0-9-]+$/.test(code) && message.length < 400 && !/[\u0000-\u001f\u007f-\u009f]/.test(message);
const isSound = ({ counts, axis }) =>
  counts.every((value) => value >= 0 && Number.isFinite(value)) && axis.gainEv > 0 && Number.isFinite(axis.offsetEv);

/** What became of a text: 'read', the code of its error, or 'FAULT'. */
function outcomeOf(text) {
  try {
    return isSound(readSpectrum(encoder.encode(text), { name: 'changed' })) ? 'read' : 'FAULT';
  } catch (error) {
    return error instanceof EmsaError && isClear(error) ? error.code : 'FAULT';
  }
}

const outcomes = new Map();
const number = Number(values.number);
for (let i = 1; i <= number; i++) {
  const text = changed();
  const outcome = outcomeOf(text);
  outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
  if (outcome === 'FAULT') console.log(JSON.stringify(text));
  if (i % 1_000_000 === 0) console.error(`${i} texts`);
}
for (const [outcome, times] of [...outcomes].sort((a, b) => b[1] - a[1])) console.log(`${times}  ${outcome}`);
process.exitCode = outcomes.has('FAULT') ? 1 : 0;

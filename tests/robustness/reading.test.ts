// Any bytes in: a spectrum or one clear error, in bounded time and memory. A pattern that took quadratic time would run into the
// time limit of the test run.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EmsaError } from '../../packages/core/src/spectrum/emsa-error.ts';
import { MAX_CHANNELS, MAX_INPUT_BYTES } from '../../packages/core/src/spectrum/limits.ts';
import { readSpectrum } from '../../packages/core/src/spectrum/read.ts';
import type { Spectrum } from '../../packages/core/src/spectrum/spectrum.ts';
import { fileWarningText } from '../../packages/core/src/telling/words/file-warnings.ts';
import { writeEmsa } from '../../packages/core/src/spectrum/write.ts';
import { COUNTS, emsaText, ENERGIES_KEV, latin1, utf8 } from '../emsa-text.ts';

const SEED = 20251125;
const MEBI = 1024 * 1024;

/** Short, and without control characters, which must not reach a terminal. */
// eslint-disable-next-line no-control-regex -- these are meant
const isShowable = (text: string): boolean => text.length < 400 && !/[\u0000-\u001f\u007f-\u009f]/.test(text);

/** The spectrum or the error; anything else fails the test. What was read must keep its promises and survive writing. */
function outcome(bytes: Uint8Array): Spectrum | EmsaError {
  let spectrum: Spectrum;
  try {
    spectrum = readSpectrum(bytes, { name: 'hostile' });
  } catch (error) {
    expect(error).toBeInstanceOf(EmsaError);
    const { code, line, message } = error as EmsaError;
    expect(code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(line === null || line >= 1).toBe(true);
    expect(isShowable(message)).toBe(true);
    return error as EmsaError;
  }
  expect(spectrum.counts.every((value) => value >= 0 && Number.isFinite(value))).toBe(true);
  expect(spectrum.axis.gainEv > 0 && Number.isFinite(spectrum.axis.offsetEv)).toBe(true);
  expect(spectrum.beamKev === null || spectrum.beamKev > 0).toBe(true);
  for (const warning of spectrum.warnings) expect(isShowable(fileWarningText(warning))).toBe(true);
  const back = readSpectrum(utf8(writeEmsa(spectrum)));
  expect(back.counts).toEqual(spectrum.counts);
  expect(back.axis).toEqual(spectrum.axis);
  return spectrum;
}

const codeOf = (bytes: Uint8Array): string => {
  const result = outcome(bytes);
  return result instanceof EmsaError ? result.code : 'read';
};

const PAIRS = COUNTS.map((count, i) => `${ENERGIES_KEV[i]}, ${count}`);
const VALID = [
  emsaText({ header: ['#BEAMKV   -kV: 15', '#CHOFFSET    : 10', '##OWN       : 1, 2', '#LIVETIME  -s: 60'] }),
  emsaText({ header: ['#DATATYPE    : XY', 'OFFSET'], rows: PAIRS, lineEnd: '\r\n' }),
  emsaText({ header: ['#DATATYPE    : XY', 'XPERCHAN'], rows: PAIRS.map((pair) => `${pair},`) }),
  `Energy (keV);Counts\n${PAIRS.join('\n').replaceAll(',', ';')}`,
];
const SNIPPETS = [
  ...[
    'NaN',
    '-1',
    '1e999',
    '-0',
    '1e-400',
    '0x1',
    ',',
    ',,',
    ';',
    '\t',
    ' ',
    '\r',
    '\n',
    '\r\n',
    '\0',
    '\uFEFF',
    '\u2028',
  ],
  ...['#', '##', ':', '#SPECTRUM', '#ENDOFDATA', '#NPOINTS: 1e9', '#NPOINTS: -3', '#XPERCHAN: 0', '#OFFSET: 1e308'],
  ...[
    '#XUNITS: channel',
    '#XUNITS: eV',
    '#DATATYPE: XY',
    '#BEAMKV: 1e300',
    '#TITLE: \u001b[2J',
    '0,5',
    '1.2.3',
    '999999999999',
  ],
];

describe('any bytes', () => {
  it('at random', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 600 }), (bytes) => {
        outcome(bytes);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it('at random behind a valid start', () => {
    const start = latin1(VALID[0].slice(0, VALID[0].indexOf('#SPECTRUM')));
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        outcome(Uint8Array.from([...start, ...bytes]));
      }),
      { seed: SEED, numRuns: 1000 },
    );
  });

  it('of text made from what spectra are made of', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...SNIPPETS, '1', '2.5', '30'), { maxLength: 80 }), (parts) => {
        outcome(utf8(parts.join('')));
        outcome(utf8(parts.join(' ')));
        outcome(utf8(parts.join('\n')));
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it('of valid files with bytes changed, cut out, or put in', () => {
    const edit = fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      length: fc.nat({ max: 40 }),
      text: fc.oneof(fc.constantFrom('', ...SNIPPETS), fc.string({ maxLength: 5 })),
    });
    fc.assert(
      fc.property(fc.constantFrom(...VALID), fc.array(edit, { minLength: 1, maxLength: 4 }), (valid, edits) => {
        let text = valid;
        for (const { at, length, text: insert } of edits) {
          const from = Math.floor(at * text.length);
          text = text.slice(0, from) + insert + text.slice(from + length);
        }
        outcome(utf8(text));
      }),
      { seed: SEED, numRuns: 4000 },
    );
  });

  it('of valid files cut at every byte', () => {
    for (const valid of VALID) {
      for (let length = 0; length < valid.length; length++) outcome(utf8(valid.slice(0, length)));
    }
  });
});

describe('sizes', () => {
  it('beyond the limit are refused unseen', () => {
    expect(codeOf(new Uint8Array(MAX_INPUT_BYTES + 1))).toBe('too-large');
    expect(codeOf(new Uint8Array(200 * MEBI))).toBe('too-large');
  });

  it('a NPOINTS of any size allocates nothing', () => {
    for (const n of ['1e9', '1e300', '4294967296']) {
      expect(codeOf(utf8(emsaText({ header: [`#NPOINTS     : ${n}`] })))).toBe('read');
    }
  });

  it('a million channels are read, more are refused', () => {
    const rows = '5\n'.repeat(MAX_CHANNELS);
    expect(codeOf(utf8(emsaText({ header: ['#XPERCHAN    : 0.0005'], rows: [rows] })))).toBe('read');
    expect(codeOf(utf8(emsaText({ rows: [`${rows}5`] })))).toBe('too-many-channels');
    expect(codeOf(utf8(`1 2\n${rows.repeat(3).replaceAll('\n', ' 5\n')}`))).toBe('too-many-channels');
  });

  const N = 2 * MEBI;
  it.each([
    ['one number of millions of digits', emsaText({ rows: ['1'.repeat(N)] }), 'data-unreadable'],
    ['digits, then a letter', emsaText({ rows: [`${'1'.repeat(N)}x`] }), 'data-unreadable'],
    ['one row of millions of numbers', emsaText({ rows: ['1 '.repeat(N / 2)] }), 'too-many-channels'],
    ['a row of blanks', emsaText({ rows: [' '.repeat(N), ...COUNTS] }), 'read'],
    ['a row of commas', emsaText({ rows: [','.repeat(N), ...COUNTS] }), 'read'],
    ['a row of commas and blanks', emsaText({ rows: [', '.repeat(N / 2), '5', ...COUNTS] }), 'read'],
    ['millions of empty lines', emsaText({ rows: ['\n'.repeat(N), ...COUNTS] }), 'read'],
    ['millions of carriage returns', emsaText({ rows: ['\r'.repeat(N), ...COUNTS] }), 'read'],
    ['a keyword of millions of letters', `#${'A'.repeat(N)}: 1\n${emsaText()}`, 'header-too-long'],
    ['a value of millions of letters', `#TITLE: ${'A '.repeat(N / 2)}\n${emsaText()}`, 'header-too-long'],
    ['a unit of millions of blanks', `#BEAMKV ${'- '.repeat(N / 2)}: 5\n${emsaText()}`, 'header-too-long'],
    [
      'a million private keywords',
      emsaText().replace('#VERSION', `${'##A: 1\n'.repeat(N / 8)}#VERSION`),
      'header-too-long',
    ],
    ['millions of hashes', `${'#'.repeat(N)}\n${emsaText()}`, 'read'],
    ['millions of dashes', `##${' -'.repeat(N / 2)}x\n${emsaText()}`, 'header-too-long'],
    ['millions of lines of words', 'word\n'.repeat(N / 5), 'not-a-spectrum'],
    ['millions of lines of hashes', '#\n'.repeat(N / 2), 'not-a-spectrum'],
    ['tabs and commas', `1,2,\t`.repeat(N / 5), 'too-few-channels'],
    ['a long tail', `${emsaText()}${'more\n'.repeat(N / 5)}`, 'read'],
    ['zeros', '\0'.repeat(N), 'binary-file'],
    ['one letter', 'a'.repeat(N), 'not-a-spectrum'],
    ['decimal commas without end', `0,${'1'.repeat(N)};5\n`, 'decimal-comma'],
  ])('%s', (_, text, code) => {
    expect(codeOf(utf8(text))).toBe(code);
  });
});

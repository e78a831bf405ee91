import { describe, expect, it } from 'vitest';
import { createHash } from 'node:crypto';
import { AXIS, codes, errorOf, readText as read } from '../../../../tests/emsa-reading.ts';
import { COUNTS, emsaText, ENERGIES_KEV, latin1, utf8 } from '../../../../tests/emsa-text.ts';
import { readSpectrum } from './read.ts';

const XY = '#DATATYPE    : XY';
const PAIRS = COUNTS.map((count, i) => `${ENERGIES_KEV[i]}, ${count}`);

describe('the source', () => {
  it('is named as asked, with the SHA-256 of the bytes', () => {
    const bytes = utf8(emsaText());
    const { source } = readSpectrum(bytes, { name: 'layer 2/a.msa' });
    expect(source).toEqual({ name: 'layer 2/a.msa', sha256: createHash('sha256').update(bytes).digest('hex') });
    expect(readSpectrum(bytes).source.name).toBe('');
  });
});

describe('encodings', () => {
  const text = emsaText({ header: ['#TITLE       : Bleiweiß, 2 µm'] });

  it('UTF-8 with and without byte-order mark', () => {
    for (const start of ['', '\uFEFF']) {
      const spectrum = readSpectrum(utf8(start + text));
      expect(spectrum.title).toBe('Bleiweiß, 2 µm');
      expect(codes(spectrum)).toEqual([]);
    }
  });

  it('Latin-1, with a warning', () => {
    const spectrum = readSpectrum(latin1(text));
    expect(spectrum.title).toBe('Bleiweiß, 2 µm');
    expect(codes(spectrum)).toEqual(['latin-1']);
  });

  it.each([
    ['little-endian', true],
    ['big-endian', false],
  ])('UTF-16 %s, with and without byte-order mark', (_, little) => {
    for (const start of ['', '\uFEFF']) {
      const buffer = new DataView(new ArrayBuffer(2 * (start + text).length));
      [...(start + text)].forEach((letter, i) => buffer.setUint16(2 * i, letter.charCodeAt(0), little));
      const spectrum = readSpectrum(new Uint8Array(buffer.buffer));
      expect(spectrum.title).toBe('Bleiweiß, 2 µm');
      expect([...spectrum.counts]).toEqual(COUNTS);
    }
  });
});

describe('numbers of the data', () => {
  it('several values per line, with any separator', () => {
    const fives = [0, 5, 10, 15].map((i) => COUNTS.slice(i, i + 5));
    for (const separator of [', ', ' ', '\t', ';', ' , ']) {
      const rows = fives.map((row) => row.join(separator));
      const spectrum = read({ header: ['#NCOLUMNS    : 5'], rows });
      expect([...spectrum.counts]).toEqual(COUNTS);
      expect(codes(spectrum)).toEqual([]);
    }
    expect([...read({ rows: fives.map((row) => row.join(', ')) }).counts]).toEqual(COUNTS);
  });

  it('a last row that is shorter, and blank lines', () => {
    const rows = [COUNTS.slice(0, 8).join(','), ' ', COUNTS.slice(8, 16).join(','), COUNTS.slice(16).join(',')];
    expect([...read({ header: ['#NCOLUMNS    : 8'], rows }).counts]).toEqual(COUNTS);
  });

  it('scientific notation, also with D', () => {
    const rows = COUNTS.map((count, i) => (i % 2 ? count.toExponential(3) : `${count / 10}D+01`));
    expect([...read({ rows }).counts]).toEqual(COUNTS);
  });

  it('several pairs per line', () => {
    const rows = PAIRS.slice(0, 10).map((pair, i) => `${pair}, ${PAIRS[i + 10]}`);
    const inOrder = Array.from({ length: 10 }, (_, i) => `${PAIRS[2 * i]}, ${PAIRS[2 * i + 1]}`);
    expect([...read({ header: [XY, '#NCOLUMNS    : 2'], rows: inOrder }).counts]).toEqual(COUNTS);
    expect(errorOf(() => read({ header: [XY, '#NCOLUMNS    : 2'], rows })).code).toBe('data-ambiguous');
  });

  it('pairs although DATATYPE says Y', () => {
    const spectrum = read({ rows: PAIRS });
    expect([...spectrum.counts]).toEqual(COUNTS);
    expect(codes(spectrum)).toEqual(['datatype-mismatch']);
  });

  it('decimal commas: refused where they could part values, read where nothing else is possible', () => {
    const commas = PAIRS.map((pair) => pair.replace(', ', '; ').replaceAll('.', ','));
    const spectrum = read({ header: [XY], rows: commas });
    expect([...spectrum.counts]).toEqual(COUNTS);
    expect(spectrum.axis).toEqual(AXIS);
    expect(codes(spectrum)).toEqual(['decimal-comma']);
    expect(errorOf(() => read({ rows: COUNTS.map((count) => `${count},0`) })).code).toBe('data-ambiguous');
    expect(errorOf(() => read({ header: [XY], rows: PAIRS.map((pair) => pair.replace('.', ',')) })).code).toBe(
      'data-ambiguous',
    );
    expect(errorOf(() => read({ header: [XY], rows: COUNTS.map((_, i) => `1,${100 + i};5`) })).code).toBe(
      'decimal-comma',
    );
  });

  it('decimal commas in the header', () => {
    const spectrum = read({ header: ['#XPERCHAN    : 0,01', '#OFFSET      : -0,1'] });
    expect(spectrum.axis).toEqual(AXIS);
    expect(codes(spectrum)).toEqual(['decimal-comma-header']);
  });
});

describe('NPOINTS and ENDOFDATA', () => {
  it('NPOINTS missing, unreadable or wrong', () => {
    expect(codes(read({ header: ['NPOINTS'] }))).toEqual(['npoints-missing']);
    expect(codes(read({ header: ['#NPOINTS     : many'] }))).toEqual(['npoints-unreadable', 'npoints-missing']);
    for (const n of [19, 21, 4096, 1e9]) {
      const spectrum = read({ header: [`#NPOINTS     : ${n}`] });
      expect([...spectrum.counts]).toEqual(COUNTS);
      expect(codes(spectrum)).toEqual(['npoints-mismatch']);
    }
  });

  it('ENDOFDATA missing', () => {
    expect(codes(readSpectrum(utf8(emsaText({ tail: '' }))))).toEqual(['endofdata-missing']);
    expect(codes(readSpectrum(utf8(`${emsaText({ tail: '' })}\n`)))).toEqual(['endofdata-missing']);
  });

  it('a file cut short loses the number that may be incomplete', () => {
    const cut = emsaText({ tail: '' }).slice(0, -4); // '...28\n19\n11' to '...28\n1'
    const spectrum = readSpectrum(utf8(cut));
    expect([...spectrum.counts]).toEqual(COUNTS.slice(0, 18));
    expect(codes(spectrum)).toEqual(['endofdata-missing', 'cut-off', 'npoints-mismatch']);
    const pairs = emsaText({ header: [XY], rows: PAIRS, tail: '' });
    for (const length of [-3, -5]) {
      expect([...readSpectrum(utf8(pairs.slice(0, length))).counts]).toEqual(COUNTS.slice(0, 19));
    }
  });

  it('a checksum after the data is kept, other text is not read', () => {
    const spectrum = read({ tail: '#ENDOFDATA   : \n#CHECKSUM    : 4711\n\u001a' });
    expect(spectrum.header.at(-1)).toEqual({ key: 'CHECKSUM', unit: '', value: '4711' });
    expect(codes(spectrum)).toEqual([]);
    expect(codes(read({ tail: '#ENDOFDATA   : \nmore\n5, 5' }))).toEqual(['text-after-end']);
  });

  it('a second spectrum behind the first is not read, and said', () => {
    expect(codes(readSpectrum(utf8(emsaText() + emsaText())))).toContain('second-spectrum');
  });

  it('keywords among the data are kept', () => {
    const rows = [...COUNTS.slice(0, 5), '#COMMENT     : here', ...COUNTS.slice(5)];
    const spectrum = read({ rows });
    expect([...spectrum.counts]).toEqual(COUNTS);
    expect(spectrum.header.at(-1)!.value).toBe('here');
    expect(codes(spectrum)).toEqual(['keyword-in-data']);
  });
});

describe('the axis', () => {
  it('comes from the energy column where XPERCHAN is missing', () => {
    const spectrum = read({ header: [XY, 'XPERCHAN', 'OFFSET'], rows: PAIRS });
    expect(spectrum.axis.gainEv).toBeCloseTo(10, 9);
    expect(spectrum.axis.offsetEv).toBeCloseTo(-100, 9);
    const uneven = COUNTS.map((count, i) => `${i * i}, ${count}`);
    expect(errorOf(() => read({ header: [XY, 'XPERCHAN', '#XUNITS      : eV'], rows: uneven })).code).toBe(
      'axis-not-linear',
    );
  });

  it('comes from CHOFFSET where OFFSET is missing, else starts at 0', () => {
    expect(read({ header: ['OFFSET', '#CHOFFSET    : 10'] }).axis).toEqual(AXIS);
    const bare = read({ header: ['OFFSET'] });
    expect(bare.axis).toEqual({ offsetEv: 0, gainEv: 10 });
    expect(codes(bare)).toEqual(['offset-missing']);
  });

  it('tells the unit by the width where XUNITS does not, or contradicts it', () => {
    const missing = read({ header: ['XUNITS'] });
    expect(missing.axis).toEqual(AXIS);
    expect(codes(missing)).toEqual(['xunits-assumed']);
    const wrong = read({ header: ['#XUNITS      : eV'] });
    expect(wrong.axis).toEqual(AXIS);
    expect(codes(wrong)).toEqual(['xunits-conflict']);
    const other = read({ header: ['#XPERCHAN    : 10', '#OFFSET      : -100'] });
    expect(other.axis).toEqual(AXIS);
    expect(codes(other)).toEqual(['xunits-conflict']);
  });

  it.each([
    ['XPERCHAN 0', '#XPERCHAN    : 0', 'xperchan-not-positive'],
    ['XPERCHAN negative', '#XPERCHAN    : -0.01', 'xperchan-not-positive'],
    ['XPERCHAN 1 keV', '#XPERCHAN    : 1', 'axis-absurd'],
    ['OFFSET beyond everything', '#OFFSET      : 5e9', 'axis-absurd'],
    ['OFFSET below everything', '#OFFSET      : -200', 'axis-absurd'],
    ['wavelengths', '#XUNITS      : nm', 'axis-not-energy'],
    ['gamma rays', '#XUNITS      : Energy (MeV)', 'axis-not-energy'],
    ['no number', '#XPERCHAN    : wide', 'axis-in-channels'],
    ['two numbers', '#XPERCHAN    : 0.01 0.02', 'axis-in-channels'],
  ])('%s: an error, unless an axis is given', (_, line, code) => {
    const error = errorOf(() => read({ header: [line] }));
    // How an axis is given differs between a command and a page, so no option is named.
    expect(error).toMatchObject({ code, asksForAxis: true });
    expect(error.message).not.toContain('--');
    expect(read({ header: [line] }, { axis: AXIS }).axis).toEqual(AXIS);
  });

  it('of the file comes before the one given', () => {
    const spectrum = read({}, { axis: { offsetEv: 0, gainEv: 20 } });
    expect(spectrum.axis).toEqual(AXIS);
    expect(codes(spectrum)).toEqual(['axis-option-unused']);
    expect(codes(read({}, { axis: AXIS }))).toEqual([]);
  });
});

describe('errors', () => {
  it.each([
    ['empty', '', 'empty-file', null],
    ['blank', ' \r\n\n', 'empty-file', null],
    ['prose', 'Dear reader,\nno numbers here.', 'not-a-spectrum', null],
    ['no data', emsaText({ rows: [''] }), 'no-data', null],
    ['no data and no NPOINTS', emsaText({ rows: [''], header: ['NPOINTS'] }), 'no-data', null],
    ['few channels', emsaText({ rows: COUNTS.slice(0, 15) }), 'too-few-channels', null],
    ['text among the data', emsaText({ rows: [1, 2, 'three', ...COUNTS] }), 'data-unreadable', 17],
    ['NaN', emsaText({ rows: [1, 2, 'NaN', ...COUNTS] }), 'counts-not-finite', 17],
    ['infinity', emsaText({ rows: [1, 2, '1e999', ...COUNTS] }), 'counts-not-finite', 17],
    ['a negative count', emsaText({ rows: [1, 2, -3, ...COUNTS] }), 'counts-negative', 17],
    ['an absurd count', emsaText({ rows: [1, 2, 1e15, ...COUNTS] }), 'counts-absurd', 17],
    ['an empty field', emsaText({ rows: [1, 2, ',3', ...COUNTS] }), 'empty-field', 17],
    ['XPERCHAN 0', emsaText({ header: ['#XPERCHAN    : 0'] }), 'xperchan-not-positive', 12],
    ['hexadecimal', emsaText({ rows: ['0x10', ...COUNTS] }), 'data-unreadable', 15],
  ])('%s', (_, text, code, line) => {
    const error = errorOf(() => readSpectrum(utf8(text)));
    expect(error).toMatchObject({ name: 'EmsaError', code, line });
    if (line !== null) expect(error.message).toMatch(new RegExp(`^Line ${line}: `));
    expect(error.message).toMatch(/[.?)]$/);
  });

  it('name the channel of a bad count', () => {
    expect(errorOf(() => read({ rows: [...COUNTS, -3] })).message).toContain('channel 20 are negative (-3)');
    const rows = PAIRS.map((pair, i) => (i === 7 ? pair.replace(/\d+$/, '-1') : pair));
    expect(errorOf(() => read({ header: [XY], rows })).message).toMatch(/^Line 22: .*channel 7 /);
  });

  it('of options that make no sense', () => {
    expect(errorOf(() => read({}, { axis: { offsetEv: 0, gainEv: 0 } })).code).toBe('axis-option');
    expect(errorOf(() => read({}, { axis: { offsetEv: NaN, gainEv: 10 } })).code).toBe('axis-option');
    expect(errorOf(() => read({}, { beamKev: -5 })).code).toBe('beam-option');
  });

  it('show no control characters of the input', () => {
    const { message } = errorOf(() => read({ rows: ['\u001b[31mred', ...COUNTS] }));
    expect(message).toContain("'?[31mred'");
  });
});

describe('leniency', () => {
  it('SPECTRUM missing, colons missing, stray text, blanks in front', () => {
    expect(codes(read({ spectrum: '' }))).toEqual(['spectrum-missing']);
    const spectrum = read({ header: ['#BEAMKV 15', '#COMMENT a b'] });
    expect(spectrum.beamKev).toBe(15);
    expect(codes(spectrum)).toEqual(['colon-missing']);
    const text = emsaText().replace('#NPOINTS', 'a stray line\n\n  #NPOINTS');
    expect(codes(readSpectrum(utf8(text)))).toEqual(['stray-text']);
  });

  it('FORMAT missing or other, unknown keywords, keywords that stand twice', () => {
    expect(codes(read({ header: ['FORMAT'] }))).toEqual(['format-missing']);
    expect(codes(read({ header: ['#SPOTSIZE    : 4'] }))).toEqual(['keyword-unknown']);
    const twice = readSpectrum(
      utf8(emsaText().replace('#VERSION', '#XPERCHAN    : 0.01\n#XPERCHAN    : 0.02\n#VERSION')),
    );
    expect(twice.axis).toEqual(AXIS);
    expect(codes(twice)).toEqual(['keyword-repeated']);
  });

  it('counts per second are read with a warning', () => {
    expect(codes(read({ header: ['#YUNITS      : counts/s'] }))).toEqual(['yunits-rate']);
  });
});

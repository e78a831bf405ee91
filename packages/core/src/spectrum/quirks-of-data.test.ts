// What real files do to the standard in their data and as files, one test per kind, with small invented inputs.
import { describe, expect, it } from 'vitest';
import { AXIS, codes, expectUsual, readText as read } from '../../../../tests/emsa-reading.ts';
import { COUNTS, emsaText, ENERGIES_KEV, utf8 } from '../../../../tests/emsa-text.ts';
import { readSpectrum } from './read.ts';

const PAIRS = COUNTS.map((count, i) => `${ENERGIES_KEV[i].toFixed(5)}, ${count.toFixed(1)}`);
const XY = '#DATATYPE    : XY';

describe('quirks of the data', () => {
  it('6: DATATYPE says XY, the data are counts with trailing commas', () => {
    expectUsual(read({ header: [XY], rows: COUNTS.map((count) => `${count.toFixed(6)}, `) }), ['datatype-mismatch']);
  });

  it('7: pairs with NCOLUMNS 1 and with NCOLUMNS 2', () => {
    expectUsual(read({ header: [XY], rows: PAIRS }));
    expectUsual(read({ header: [XY, '#NCOLUMNS    : 2.'], rows: PAIRS }));
  });

  it('8: a third, empty field and padding', () => {
    expectUsual(read({ header: [XY], rows: PAIRS.map((pair) => `  ${pair.replace(', ', ',     ')},`) }));
  });

  it('9: one count per line with trailing comma and blank', () => {
    expectUsual(read({ rows: COUNTS.map((count) => `${count}, `) }));
  });

  it('11: a peak at zero energy stays in the counts', () => {
    const counts = COUNTS.map((count, i) => (Math.abs(i - 10) < 2 ? 9000 + i : count));
    const spectrum = read({ rows: counts });
    expect([...spectrum.counts]).toEqual(counts);
    expect(codes(spectrum)).toEqual([]);
  });

  it('12: zeros of a low-energy cut-off stay channels', () => {
    const counts = COUNTS.map((count, i) => (i < 10 ? 0 : 300 + count));
    const spectrum = read({ header: [XY], rows: counts.map((count, i) => `${ENERGIES_KEV[i]}, ${count},`) });
    expect([...spectrum.counts]).toEqual(counts);
    expect(spectrum.axis).toEqual(AXIS);
  });

  it('13: a rounded energy column gives way to OFFSET and XPERCHAN, and is checked against them', () => {
    const header = [XY, '#XPERCHAN    : 0.005', '#OFFSET      : 0.02'];
    const rounded = (gain: number) => COUNTS.map((count, i) => `${(0.02 + gain * i).toFixed(2)}, ${count}`);
    const spectrum = read({ header, rows: rounded(0.005) });
    expect(spectrum.axis).toEqual({ offsetEv: 20, gainEv: 5 });
    expect(codes(spectrum)).toEqual([]);
    const conflict = read({ header, rows: rounded(0.01) });
    expect(conflict.axis).toEqual({ offsetEv: 20, gainEv: 5 });
    expect(codes(conflict)).toEqual(['x-column-conflict']);
  });

  it.each([512, 750, 1024, 1144, 1555, 2048, 16_384])('15: %i channels', (channels) => {
    const counts = Array.from({ length: channels }, (_, i) => i % 97);
    const spectrum = read({ header: [`#NPOINTS     : ${channels}`], rows: counts });
    expect([...spectrum.counts]).toEqual(counts);
    expect(codes(spectrum)).toEqual([]);
  });

  it('16: an axis that ends below the beam energy is nothing to warn of', () => {
    const spectrum = read({ header: ['#BEAMKV      : 30'] });
    expectUsual(spectrum);
    expect(spectrum.beamKev).toBe(30);
  });

  it('21: any text on the SPECTRUM line, or none', () => {
    for (const text of [': Spectral Data Starts Here', ': DATA BEGINS HERE', ': ', ':', '']) {
      expectUsual(read({ spectrum: `#SPECTRUM    ${text}` }));
    }
  });

  it('22: ENDOFDATA with text or without, with a last line end or without', () => {
    for (const tail of ['#ENDOFDATA   : ', '#ENDOFDATA   : End Of Data and File', '#ENDOFDATA']) {
      expectUsual(read({ tail }));
      expectUsual(readSpectrum(utf8(emsaText({ tail }).trimEnd())));
    }
  });

  it('23: lines ended by LF, CRLF or CR', () => {
    for (const lineEnd of ['\n', '\r\n', '\r']) expectUsual(read({ lineEnd }));
  });

  it('35: counts that are no whole numbers', () => {
    const counts = COUNTS.map((count) => count + 0.2);
    const spectrum = read({ rows: counts });
    expect([...spectrum.counts]).toEqual(counts);
    expect(codes(spectrum)).toEqual(['counts-not-integer']);
  });
});

describe('quirks of files', () => {
  it.each(['a.txt', 'b.msa', 'c.emsa', 'D.EMSA', 'e', 'Grain(1).emsa', 'layer 2_Point 1.txt'])(
    '34: the name %s is kept and decides nothing',
    (name) => {
      const spectrum = read({}, { name });
      expectUsual(spectrum);
      expect(spectrum.source.name).toBe(name);
    },
  );

  it('36: the same title, or the same counts, do not make the same input', () => {
    const one = read({ header: ['#TITLE       : Spectrum 1'] });
    const other = read({ header: ['#TITLE       : Spectrum 1'], rows: [...COUNTS].reverse() });
    const renamed = read({ header: ['#TITLE       : Spectrum 2'] });
    expect(other.title).toBe(one.title);
    expect(renamed.counts).toEqual(one.counts);
    expect(new Set([one, other, renamed].map(({ source }) => source.sha256)).size).toBe(3);
  });
});

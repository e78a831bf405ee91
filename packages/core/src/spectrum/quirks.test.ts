// What real files do to the standard, one test per kind, with small invented inputs.
import { describe, expect, it } from 'vitest';
import { COUNTS, emsaText, ENERGIES_KEV, utf8, type TextParts } from '../../../../tests/emsa-text.ts';
import { EmsaError } from './emsa-error.ts';
import { readSpectrum, type ReadOptions } from './read.ts';
import type { Spectrum } from './spectrum.ts';

const read = (parts: TextParts = {}, options: ReadOptions = {}): Spectrum =>
  readSpectrum(utf8(emsaText(parts)), options);
const codes = (spectrum: Spectrum): string[] => spectrum.warnings.map(({ code }) => code);
const codeOf = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof EmsaError) return error.code;
    throw error;
  }
  return 'read';
};
const PAIRS = COUNTS.map((count, i) => `${ENERGIES_KEV[i].toFixed(5)}, ${count.toFixed(1)}`);
const XY = '#DATATYPE    : XY';
const AXIS = { offsetEv: -100, gainEv: 10 };

/** Counts and axis of the invented spectrum, whatever its spelling, and these warnings alone. */
function expectUsual(spectrum: Spectrum, warnings: string[] = []): void {
  expect([...spectrum.counts]).toEqual(COUNTS);
  expect(spectrum.axis).toEqual(AXIS);
  expect(codes(spectrum)).toEqual(warnings);
}

describe('quirks of the header', () => {
  it('1: whole numbers written as reals', () => {
    expectUsual(read({ header: ['#NPOINTS     : 20.0', '#NCOLUMNS    : 1.0'] }));
    expectUsual(read({ header: ['#NPOINTS     : 20.'] }));
  });

  it('2: unit glued to the keyword with a dash and padding', () => {
    const spectrum = read({ header: ['#BEAMKV   -kV: 15.0', '#LIVETIME  -s: 60.000', '#ELEVANGLE-dg: 34.5'] });
    expectUsual(spectrum);
    expect(spectrum).toMatchObject({ beamKev: 15, liveTimeS: 60, takeOffDeg: 34.5 });
    expect(spectrum.header.slice(-3)).toEqual([
      { key: 'BEAMKV', unit: 'kV', value: '15.0' },
      { key: 'LIVETIME', unit: 's', value: '60.000' },
      { key: 'ELEVANGLE', unit: 'dg', value: '34.5' },
    ]);
  });

  it('3: unit after the keyword with a blank', () => {
    const spectrum = read({ header: ['#XPOSITION mm: 0.7242'] });
    expectUsual(spectrum);
    expect(spectrum.header.at(-1)).toEqual({ key: 'XPOSITION', unit: 'mm', value: '0.7242' });
  });

  it('4: units as free text', () => {
    expectUsual(read({ header: ['#XUNITS      : Energy (keV)', '#YUNITS      : Intensity'] }));
    const inEv = ['#XUNITS      : Energy (eV)', '#XPERCHAN    : 10', '#OFFSET      : -100'];
    expectUsual(read({ header: inEv }));
  });

  it('5: axis in channels: an error, or the axis given', () => {
    const header = ['#XUNITS      : channel', '#XPERCHAN    : 1.0', '#OFFSET      : 0.0'];
    expect(codeOf(() => read({ header }))).toBe('axis-in-channels');
    expectUsual(read({ header }, { axis: AXIS }));
    expect(codeOf(() => read({ header: ['XUNITS', 'XPERCHAN', 'OFFSET'] }))).toBe('axis-in-channels');
    expect(codeOf(() => read({ header: ['XUNITS', '#XPERCHAN    : 1.0'] }))).toBe('axis-in-channels');
  });

  it('10: negative OFFSET and the positive channel of zero energy that goes with it', () => {
    expectUsual(read({ header: ['#CHOFFSET    : 10.0'] }));
    expectUsual(read({ header: ['#CHOFFSET    : 14.0'] }), ['choffset-mismatch']);
    const header = ['#NPOINTS     : 40', '#OFFSET      : -0.4', '#XPERCHAN    : 0.02', '#CHOFFSET    : 20'];
    const wider = read({ header, rows: [...COUNTS, ...COUNTS] });
    expect(wider.axis).toEqual({ offsetEv: -400, gainEv: 20 });
    expect(codes(wider)).toEqual([]);
  });

  it.each([
    ['0.005', 'keV', 5],
    ['0.01', 'keV', 10],
    ['0.02', 'keV', 20],
    ['0.010000000', 'keV', 10],
    ['0.009999', 'keV', 9.999],
    ['10.42125', 'eV', 10.42125],
    ['9.999', 'eV', 9.999],
    ['1.0E-02', 'keV', 10],
  ])('14: XPERCHAN %s %s, exactly', (width, unit, gainEv) => {
    const header = [`#XPERCHAN    : ${width}`, `#XUNITS      : ${unit}`, '#OFFSET      : 0'];
    expect(read({ header }).axis).toEqual({ offsetEv: 0, gainEv });
  });

  it('17: beam energy missing, not round, in volts, of a transmission instrument, or impossible', () => {
    expect(read().beamKev).toBeNull();
    expectUsual(read({ header: ['#BEAMKV      : 15.05'] }));
    expect(read({ header: ['#BEAMKV      : 15.05'] }).beamKev).toBe(15.05);
    const cases: [string, number | null, string[]][] = [
      ['200.0', 200, ['beam-high']],
      ['15000', 15, ['beam-in-volts']],
      ['0', null, ['beam-absurd']],
      ['-15', null, ['beam-absurd']],
      ['1500', null, ['beam-absurd']],
      ['unknown', null, ['beamkv-unreadable']],
      ['', null, []],
      ['20 kV', 20, []],
    ];
    for (const [text, beamKev, warnings] of cases) {
      const spectrum = read({ header: [`#BEAMKV      : ${text}`] });
      expect(spectrum.beamKev, text).toBe(beamKev);
      expect(codes(spectrum), text).toEqual(warnings);
    }
    expect(read({ header: ['#BEAMKV    -V: 15000'] }).beamKev).toBe(15);
    expect(read({}, { beamKev: 20 }).beamKev).toBe(20);
    const overridden = read({ header: ['#BEAMKV      : 15'] }, { beamKev: 20 });
    expect(overridden.beamKev).toBe(20);
    expect(codes(overridden)).toEqual(['beam-overridden']);
  });

  it('18: live and real time missing, empty, or with many decimals', () => {
    expect(read()).toMatchObject({ liveTimeS: null, realTimeS: null });
    const spectrum = read({ header: ['#LIVETIME    : ', '#REALTIME    : 43.231628418'] });
    expectUsual(spectrum);
    expect(spectrum).toMatchObject({ liveTimeS: null, realTimeS: 43.231628418 });
    expect(codes(read({ header: ['#LIVETIME    : 60', '#REALTIME    : 50'] }))).toEqual(['times-inconsistent']);
  });

  it('19: probe current absent, or 0 for not measured', () => {
    expect(read().probeCurrentNa).toBeNull();
    expect(read({ header: ['#PROBECUR -nA: 0.0000'] }).probeCurrentNa).toBeNull();
    expect(read({ header: ['#PROBECUR -nA: 0.8'] }).probeCurrentNa).toBe(0.8);
    expect(read({ header: ['#PROBECUR -pA: 800'] }).probeCurrentNa).toBeCloseTo(0.8, 12);
  });

  it('20: SIGNALTYPE EDS, EDS with more, empty or absent', () => {
    for (const value of ['EDS', 'EDS_SEM', '']) expectUsual(read({ header: [`#SIGNALTYPE  : ${value}`] }));
    expectUsual(read());
    expectUsual(read({ header: ['#SIGNALTYPE  : ELS'] }), ['signal-type']);
  });

  it('24: any order of keywords, empty values, a comment between', () => {
    const text = [
      '#FORMAT      : EMSA/MAS SPECTRAL DATA FILE',
      '#DATE        : ',
      '#XPERCHAN    : 0.01',
      '#OFFSET      : -0.1',
      '#COMMENT     : between: with a colon',
      '#XUNITS      : keV',
      '#NPOINTS     : 20',
      '#TITLE       : []',
      '#SPECTRUM    : ',
      ...COUNTS,
      '#ENDOFDATA   : ',
    ].join('\n');
    const spectrum = readSpectrum(utf8(text));
    expectUsual(spectrum);
    expect(spectrum.title).toBe('');
    expect(spectrum.header[4]).toEqual({ key: 'COMMENT', unit: '', value: 'between: with a colon' });
  });

  it('25: dates and times are kept as they stand', () => {
    const spectrum = read({ header: ['#DATE        : 18-Apr-2023', '#TIME        : 12: 6:34'] });
    expectUsual(spectrum);
    expect(spectrum.header).toContainEqual({ key: 'DATE', unit: '', value: '18-Apr-2023' });
    expect(spectrum.header).toContainEqual({ key: 'TIME', unit: '', value: '12: 6:34' });
  });

  it('26: private keywords repeat, with commas inside', () => {
    const spectrum = read({ header: ['##LABELLED  : 26, 6.404, Fe', '##LABELLED  : 26, 7.058, Fe'] });
    expectUsual(spectrum);
    expect(spectrum.header.filter(({ key }) => key === '##LABELLED').map(({ value }) => value)).toEqual([
      '26, 6.404, Fe',
      '26, 7.058, Fe',
    ]);
  });

  it('27: letters lost in export are kept as they stand', () => {
    const spectrum = read({ header: ['##LABELLED  : 8, 0.525, O K?1'] });
    expect(spectrum.header.at(-1)).toEqual({ key: '##LABELLED', unit: '', value: '8, 0.525, O K?1' });
  });

  it('28: labels of another sample change nothing', () => {
    const labelled = read({ header: ['##LABELLED  : 25, 5.899, Mn', '##ELEMENTS  : 25,50,8,12'] });
    expectUsual(labelled);
    const plain = read();
    expect({ ...labelled, header: [], source: plain.source }).toEqual({ ...plain, header: [] });
  });

  it('29: labels of some peaks only change nothing', () => {
    expectUsual(read({ header: ['##ELEMENTS  : 6'] }));
  });

  it('30: private values need be no numbers', () => {
    const spectrum = read({ header: ['##MADE_ON    : (null)', '##LABELLED   : 0.179000  B Ka  2'] });
    expectUsual(spectrum);
    expect(spectrum.header.slice(-2).map(({ value }) => value)).toEqual(['(null)', '0.179000  B Ka  2']);
  });

  it('31: flags that escape and sum peaks were removed', () => {
    expectUsual(read({ header: ['##ESC_REMOVED: 1', '##SUM_REMOVED: yes'] }), ['peaks-removed']);
    expectUsual(read({ header: ['##ESC_REMOVED: 0', '##SUM_REMOVED: no'] }));
  });

  it('32: detector type in any spelling', () => {
    expect(read({ header: ['#EDSDET      : SiUTW'] }).detector.type).toBe('SiUTW');
    expect(read({ header: ['#EDSDET      : SIUTW'] }).detector.type).toBe('SIUTW');
    expect(read().detector.type).toBe('');
  });

  it('33: thicknesses in scientific notation', () => {
    const header = ['#THCWIND  -cm: 3.00E-05', '#TAUWIND  -cm: 2.00E-06', '#TDEADLYR -cm: 0', '#TBEWIND  -um: 8'];
    expect(read({ header }).detector).toMatchObject({
      windowCm: 3e-5,
      goldLayerCm: 2e-6,
      deadLayerCm: null,
      berylliumWindowCm: 8e-4,
    });
  });
});

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

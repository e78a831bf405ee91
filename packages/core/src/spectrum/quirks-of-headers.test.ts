// What real files do to the standard in their header, one test per kind, with small invented inputs.
import { describe, expect, it } from 'vitest';
import { AXIS, codeOf, codes, expectUsual, readText as read } from '../../../../tests/emsa-reading.ts';
import { COUNTS, utf8 } from '../../../../tests/emsa-text.ts';
import { readSpectrum } from './read.ts';

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

// ISO 22029:2012, Microbeam analysis: EMSA/MAS standard file format for spectral-data exchange, and the EMSA/MAS format 1.0 of
// 1991 that it took over. Keywords, their order, columns and units here are from memory: the document was not at hand.
import { describe, expect, it } from 'vitest';
import { KEYWORDS } from '../../packages/core/src/spectrum/keywords.ts';
import { readSpectrum } from '../../packages/core/src/spectrum/read.ts';
import type { Spectrum } from '../../packages/core/src/spectrum/spectrum.ts';
import { writeEmsa } from '../../packages/core/src/spectrum/write.ts';
import { utf8 } from '../emsa-text.ts';

/** Required keywords in the order of the standard (from memory). */
const REQUIRED = [
  ...['FORMAT', 'VERSION', 'TITLE', 'DATE', 'TIME', 'OWNER', 'NPOINTS', 'NCOLUMNS'],
  ...['XUNITS', 'YUNITS', 'DATATYPE', 'XPERCHAN', 'OFFSET', 'SPECTRUM', 'ENDOFDATA'],
];

/** Optional keywords (from memory), by what they describe. */
const OPTIONAL = {
  spectrum: ['SIGNALTYPE', 'XLABEL', 'YLABEL', 'CHOFFSET', 'COMMENT', 'CHECKSUM'],
  microscope: ['BEAMKV', 'EMISSION', 'PROBECUR', 'BEAMDIAM', 'MAGCAM', 'CONVANGLE', 'COLLANGLE', 'OPERMODE'],
  specimen: ['THICKNESS', 'XTILTSTGE', 'YTILTSTGE', 'XPOSITION', 'YPOSITION', 'ZPOSITION'],
  electronLoss: ['DWELLTIME', 'INTEGTIME', 'ELSDET'],
  xRay: ['ELEVANGLE', 'AZIMANGLE', 'SOLIDANGL', 'LIVETIME', 'REALTIME', 'EDSDET'],
  detectorLayers: ['TBEWIND', 'TAUWIND', 'TDEADLYR', 'TACTLYR', 'TALWIND', 'TPYWIND', 'TBNWIND', 'TDIWIND', 'THCWIND'],
};

const COUNTS = Float64Array.from({ length: 1024 }, (_, i) => (i * 37) % 211);
const invented: Spectrum = {
  source: { name: '', sha256: '' },
  title: 'Invented spectrum',
  counts: COUNTS,
  axis: { offsetEv: -200, gainEv: 10 },
  beamKev: 20,
  liveTimeS: 60,
  realTimeS: 71.5,
  probeCurrentNa: 0.8,
  takeOffDeg: 35,
  detector: {
    type: 'SIUTW',
    berylliumWindowCm: null,
    aluminiumLayerCm: 3e-6,
    goldLayerCm: null,
    deadLayerCm: 1e-5,
    activeLayerCm: 0.045,
    windowCm: 3e-5,
  },
  header: [{ key: '##GRAIN', unit: '', value: 'layer 2, red' }],
  warnings: [],
};

describe('what is written conforms to ISO 22029', () => {
  const text = writeEmsa(invented);
  const lines = text.split('\r\n');
  const start = lines.findIndex((line) => line.startsWith('#SPECTRUM'));
  const end = lines.findIndex((line) => line.startsWith('#ENDOFDATA'));
  const keywords = lines.filter((line) => line.startsWith('#') && !line.startsWith('##'));
  const valueOf = (key: string): string => {
    const line = keywords.find((other) => other.startsWith(`#${key}`))!;
    return line.slice(line.indexOf(':') + 1).trim();
  };

  it('has every required keyword once, in order, FORMAT first and SPECTRUM last before the data', () => {
    const keys = keywords.map((line) => /^#(\w+)/.exec(line)![1]);
    expect(keys.filter((key) => REQUIRED.includes(key))).toEqual(REQUIRED);
    expect(lines[0]).toBe('#FORMAT      : EMSA/MAS Spectral Data File');
    expect(lines[1]).toBe('#VERSION     : 1.0');
    expect(lines.slice(0, start).every((line) => line.startsWith('#'))).toBe(true);
  });

  it('puts the colon in column 14 and a blank after it', () => {
    for (const line of lines.filter((other) => other.startsWith('#'))) {
      expect(line).toMatch(/^##?[A-Z0-9]+ *(-[A-Za-z]{1,2})?:/);
      expect(line.indexOf(':')).toBe(13);
      if (line.length > 14) expect(line[14]).toBe(' ');
    }
  });

  it('gives the units with the keyword: kV, nA, s, dg, cm', () => {
    const withUnit = keywords.filter((line) => /^#\w+ *-\w+:/.test(line)).map((line) => line.slice(1, 13));
    expect(withUnit).toEqual([
      ...['BEAMKV   -kV', 'PROBECUR -nA', 'ELEVANGLE-dg', 'LIVETIME  -s', 'REALTIME  -s'],
      ...['TALWIND  -cm', 'TDEADLYR -cm', 'TACTLYR  -cm', 'THCWIND  -cm'],
    ]);
  });

  it('describes the data truly', () => {
    expect(Number(valueOf('NPOINTS'))).toBe(1024);
    expect(Number(valueOf('NCOLUMNS'))).toBe(1);
    expect(valueOf('DATATYPE')).toBe('Y');
    expect(valueOf('XUNITS')).toBe('eV');
    expect(Number(valueOf('XPERCHAN'))).toBe(10);
    expect(Number(valueOf('OFFSET'))).toBe(-200);
    expect(valueOf('SIGNALTYPE')).toBe('EDS');
    expect(lines.slice(start + 1, end).map(Number)).toEqual([...COUNTS]);
    expect(end - start - 1).toBe(1024);
    expect(lines.slice(end + 1)).toEqual(['']);
  });

  it('is plain ASCII when its texts are', () => {
    expect(/^[\x20-\x7e\r\n]*$/.test(text)).toBe(true);
  });

  it('is read without any warning', () => {
    const back = readSpectrum(utf8(text));
    expect(back.warnings).toEqual([]);
    expect({ ...back, source: invented.source, header: invented.header }).toEqual(invented);
  });
});

describe('what is read', () => {
  it('knows every keyword of the standard', () => {
    const all = [...REQUIRED, ...Object.values(OPTIONAL).flat()];
    expect(all.filter((key) => !KEYWORDS.has(key))).toEqual([]);
    expect([...KEYWORDS.keys()].filter((key) => !all.includes(key))).toEqual([]);
  });

  it('takes a file with all of them, and warns of none', () => {
    const optional = Object.values(OPTIONAL)
      .flat()
      .filter((key) => key !== 'CHECKSUM')
      .map((key) => `#${key.padEnd(12)}: ${KEYWORDS.get(key) === 'text' ? 'EDS' : '1'}`);
    const [before, after] = writeEmsa({ ...invented, axis: { offsetEv: -10, gainEv: 10 } }).split(
      /(?<=#OFFSET.*\r\n)[^]*(?=#SPECTRUM)/,
    );
    const text = `${before}${optional.join('\r\n')}\r\n${after}#CHECKSUM    : 1\r\n`;
    const spectrum = readSpectrum(utf8(text));
    expect(spectrum.warnings).toEqual([]);
    expect(spectrum).toMatchObject({ beamKev: 1, liveTimeS: 1, realTimeS: 1, probeCurrentNa: 1, takeOffDeg: 1 });
    expect(spectrum.detector).toEqual({
      type: 'EDS',
      berylliumWindowCm: 1,
      aluminiumLayerCm: 1,
      goldLayerCm: 1,
      deadLayerCm: 1,
      activeLayerCm: 1,
      windowCm: 1,
    });
    expect(spectrum.header.map(({ key }) => key)).toContain('CHECKSUM');
  });

  // Layouts that the standard allows (from memory): Y in up to five columns, XY in pairs, eV or keV.
  it.each([
    ['Y, one column', 'Y', 1],
    ['Y, five columns', 'Y', 5],
    ['XY, one pair per line', 'XY', 1],
    ['XY, two pairs per line', 'XY', 2],
  ])('%s', (_, type, columns) => {
    const fields = Array.from(COUNTS, (count, i) => (type === 'Y' ? `${count}` : `${-200 + 10 * i}, ${count}`));
    const rows: string[] = [];
    for (let i = 0; i < fields.length; i += columns) rows.push(fields.slice(i, i + columns).join(', '));
    const lines = writeEmsa(invented).split('\r\n');
    const start = lines.findIndex((line) => line.startsWith('#SPECTRUM'));
    const end = lines.findIndex((line) => line.startsWith('#ENDOFDATA'));
    const text = [...lines.slice(0, start + 1), ...rows, ...lines.slice(end)]
      .join('\r\n')
      .replace('#DATATYPE    : Y', `#DATATYPE    : ${type}`)
      .replace('#NCOLUMNS    : 1', `#NCOLUMNS    : ${columns}`);
    const spectrum = readSpectrum(utf8(text));
    expect(spectrum.counts).toEqual(COUNTS);
    expect(spectrum.axis).toEqual(invented.axis);
    expect(spectrum.warnings).toEqual([]);
  });
});

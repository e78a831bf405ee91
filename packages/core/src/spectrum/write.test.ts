import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COUNTS, emsaText, utf8 } from '../../../../tests/emsa-text.ts';
import { readSpectrum } from './read.ts';
import type { HeaderEntry, Spectrum } from './spectrum.ts';
import { writeEmsa } from './write.ts';

const REMADE = ['FORMAT', 'VERSION', 'NPOINTS', 'NCOLUMNS', 'XUNITS', 'DATATYPE', 'XPERCHAN', 'OFFSET'];
const FIRST = ['TITLE', 'DATE', 'TIME', 'OWNER', 'YUNITS'];
const again = (spectrum: Spectrum): Spectrum => readSpectrum(utf8(writeEmsa(spectrum)));
/** Entries that belong to the spectrum, not to the way it is written. */
const own = (header: readonly HeaderEntry[]): HeaderEntry[] =>
  header.filter(({ key }) => ![...REMADE, ...FIRST].includes(key));
const SEED = 20251125;

function expectSame(back: Spectrum, spectrum: Spectrum): void {
  const { source, warnings, header } = spectrum;
  expect({ ...back, source, warnings, header }).toEqual(spectrum);
}

const finite = fc.double({ min: 1e-9, max: 1e9, noNaN: true });
const perhaps = fc.option(finite, { nil: null });
const word = fc.string({ maxLength: 20 }).map((text) => text.replace(/[\r\n\0]/g, '').trim());
const key = fc.stringMatching(/^[A-Z0-9_]{1,14}$/);
const axis = fc.record({
  offsetEv: fc.double({ min: -100, max: 5000, noNaN: true }).map((value) => value + 0),
  gainEv: fc.double({ min: 10, max: 40, noNaN: true }),
});
const count = fc.oneof(
  fc.nat(),
  fc.double({ min: 0, max: 1e12, noNaN: true }).map((value) => value + 0),
);
const spectra: fc.Arbitrary<Spectrum> = fc.record({
  source: fc.constant({ name: '', sha256: '' }),
  title: word.filter((text) => text !== '[]'),
  counts: fc.array(count, { minLength: 16, maxLength: 60 }).map((values) => Float64Array.from(values)),
  axis,
  beamKev: fc.option(fc.double({ min: 0.5, max: 400, noNaN: true }), { nil: null }),
  liveTimeS: perhaps,
  realTimeS: perhaps,
  probeCurrentNa: perhaps,
  takeOffDeg: fc.option(
    fc.double({ min: -90, max: 90, noNaN: true }).map((value) => value + 0),
    { nil: null },
  ),
  detector: fc.record({
    type: word,
    berylliumWindowCm: perhaps,
    aluminiumLayerCm: perhaps,
    goldLayerCm: perhaps,
    deadLayerCm: perhaps,
    activeLayerCm: perhaps,
    windowCm: perhaps,
  }),
  header: fc.array(
    fc.oneof(
      fc.record({ key: key.map((text) => `##${text}`), unit: fc.constantFrom('', 'kV', 'µm'), value: word }),
      fc.record({
        key: fc.constantFrom('COMMENT', 'XLABEL', 'SIGNALTYPE', 'DATE'),
        unit: fc.constant(''),
        value: word,
      }),
      fc.record({ key: fc.constantFrom('XUNITS'), unit: fc.constant(''), value: fc.constantFrom('keV', 'eV') }),
    ),
    { maxLength: 8 },
  ),
  warnings: fc.constant([]),
});

describe('writing', () => {
  it('then reading gives the same spectrum', () => {
    fc.assert(
      fc.property(spectra, (spectrum) => {
        const back = again(spectrum);
        expectSame(back, spectrum);
        const unsaid = own(back.header).filter(({ key: k }) => !own(spectrum.header).some((entry) => entry.key === k));
        expect(own(back.header).filter((entry) => !unsaid.includes(entry))).toEqual(own(spectrum.header));
      }),
      { seed: SEED, numRuns: 500 },
    );
  });

  it('what was read, then reading and writing again changes nothing more', () => {
    fc.assert(
      fc.property(spectra, (spectrum) => {
        const back = again(spectrum);
        expect(again(back)).toEqual({ ...back, warnings: again(back).warnings, source: again(back).source });
        expect(writeEmsa(back)).toBe(writeEmsa(spectrum));
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it('keeps every keyword that was read, private ones, units and repeats, in order', () => {
    const header = [
      '#CHOFFSET    : 10.0',
      '#XPOSITION mm: 0.7242',
      '#LIVETIME  -s: 60.000',
      '##LABELLED  : 26, 6.404, Fe',
      '##LABELLED  : 26, 7.058, Fe',
      '##DET-NAME   -mm: a: b',
      '#COMMENT     : one',
      '#COMMENT     : two',
      '#BEAMKV   -kV: 15000',
    ];
    const spectrum = readSpectrum(utf8(emsaText({ header })));
    const back = again(spectrum);
    expectSame(back, spectrum);
    expect(own(back.header)).toEqual([...own(spectrum.header), { key: 'SIGNALTYPE', unit: '', value: 'EDS' }]);
    expect(writeEmsa(back)).toBe(writeEmsa(spectrum));
  });

  it('keeps the unit of the axis, and its digits', () => {
    const spectrum = readSpectrum(utf8(emsaText({ header: ['#XPERCHAN    : 0.009999', '#OFFSET      : -0.0955045'] })));
    const text = writeEmsa(spectrum);
    expect(text).toContain('#XUNITS      : keV\r\n');
    expect(text).toContain('#XPERCHAN    : 0.009999\r\n');
    expect(text).toContain('#OFFSET      : -0.0955045\r\n');
    expect(again(spectrum).axis).toEqual({ offsetEv: -95.5045, gainEv: 9.999 });
  });

  it('leaves out a checksum of other bytes, and breaks no line on a title of several', () => {
    const spectrum = readSpectrum(utf8(emsaText({ tail: '#ENDOFDATA   : \n#CHECKSUM    : 4711' })));
    expect(spectrum.header.some(({ key: k }) => k === 'CHECKSUM')).toBe(true);
    expect(writeEmsa(spectrum)).not.toContain('CHECKSUM');
    const titled = again({ ...spectrum, title: 'a\n#NPOINTS: 3\r\nb' });
    expect(titled.title).toBe('a #NPOINTS: 3 b');
    expect([...titled.counts]).toEqual(COUNTS);
  });
});

import { describe, expect, it } from 'vitest';
import { Calibration, type EstimateReading } from './calibration.ts';
import type { Surveyed } from './surveyed.ts';
import { worthAsking } from './worth-asking.ts';

const spectrum = (i: number, more: Partial<Surveyed> = {}): Surveyed => ({
  name: `g${String(i).padStart(3, '0')}.msa`,
  sha256: String(i % 10).repeat(64),
  setting: '10 eV per channel from 0 eV',
  totalCounts: 1000 + i,
  rate: 1000,
  takenAt: i,
  ...more,
});
const session = (count: number, more: Partial<Surveyed> = {}): Surveyed[] =>
  Array.from({ length: count }, (_, i) => spectrum(i, more));
const nothingKnown = (): boolean => false;

describe('the spectra that are asked about the instrument', () => {
  it('are those of most counts, from all stretches of the session', () => {
    const asked = worthAsking(session(720), nothingKnown);
    expect(asked.length).toBe(24);
    // Two from each twelfth of 720 minutes.
    expect(new Set(asked.map(({ takenAt }) => Math.floor((takenAt! * 12) / 720))).size).toBe(12);
  });

  it('are all reference materials, whatever their counts', () => {
    const all = session(200, { takenAt: null });
    const asked = worthAsking(all, (name) => name === 'g000.msa');
    expect(asked[0]?.name).toBe('g000.msa');
    expect(asked.length).toBe(13);
  });

  it('are one in thirty, between 12 and 36', () => {
    const asked = (count: number): number => worthAsking(session(count, { takenAt: null }), nothingKnown).length;
    expect([30, 300, 500, 2000].map(asked)).toEqual([12, 12, 17, 36]);
  });

  it('are none where too few would be left to tell of another', () => {
    expect(worthAsking(session(3), nothingKnown)).toEqual([]);
    expect(worthAsking(session(4), nothingKnown).length).toBe(4);
  });

  it('do not depend on the order of the files', () => {
    const all = session(100, { takenAt: null, totalCounts: 500 });
    const names = (of: readonly Surveyed[]): string[] => of.map(({ name }) => name);
    expect(names(worthAsking([...all].reverse(), nothingKnown))).toEqual(names(worthAsking(all, nothingKnown)));
  });
});

describe('a calibration', () => {
  /** A spectrum that says exactly where the axis is: offset in eV, gain relative, noise 50 eV, Fano as usual. */
  const reading = (offset: number, gain = 0): EstimateReading => {
    const information = [4, 0, 0, 0, 0, 1e8, 0, 0, 0, 0, 4, 0, 0, 0, 0, 1e4];
    return {
      estimate: {
        header: { offsetEv: 0, gainEv: 10 },
        information,
        vector: [4 * offset, 1e8 * gain, 4 * 50, 0],
        artefacts: [],
        ratios: [],
        thickWindow: false,
        rate: 1000,
      },
    };
  };

  it('tells each spectrum what the others say, and keeps settings apart', () => {
    const here = session(6, { takenAt: null });
    const there = session(2, { takenAt: null, setting: '5 eV per channel from 0 eV' }).map((one, i) => ({
      ...one,
      name: `other${i}.msa`,
    }));
    const offsets = [-3, -3, -3, -3, -3, 1];
    const calibration = new Calibration(
      [...here, ...there],
      new Map(here.map(({ name }, i) => [name, reading(offsets[i] ?? 0)])),
    );
    expect(calibration.knowledgeFor('other0.msa')).toBeNull();
    expect(calibration.knowledgeFor('nowhere.msa')).toBeNull();
    // The last one hears only of -3; the first also of the one at 1.
    expect(calibration.knowledgeFor('g005.msa')?.axis.offsetEv).toBeCloseTo(-3, 1);
    expect(calibration.knowledgeFor('g005.msa')?.spectra).toBe(5);
  });

  it('leaves out a spectrum that the others contradict, and names it', () => {
    const all = session(8, { takenAt: null });
    const calibration = new Calibration(
      all,
      new Map(all.map(({ name }, i) => [name, reading(i === 7 ? 60 : -2 + 0.1 * i)])),
    );
    expect(calibration.settings[0]?.outlying).toEqual(['g007.msa']);
    expect(calibration.knowledgeFor('g000.msa')?.axis.offsetEv).toBeLessThan(0);
  });

  it('follows a drift where times are known', () => {
    const all = session(20);
    const calibration = new Calibration(all, new Map(all.map(({ name }, i) => [name, reading(0.3 * i)])));
    const [setting] = calibration.settings;
    expect(setting?.timed).toBe(true);
    expect(setting?.begins?.axis.offsetEv).toBeCloseTo(0, 0);
    expect(setting?.ends?.axis.offsetEv).toBeCloseTo(5.7, 0);
  });
});

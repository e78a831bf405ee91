import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import {
  shareInstrument,
  type ArtefactEstimate,
  type InstrumentEstimate,
  type TimedEstimate,
} from './shared-instrument.ts';

const NOISE = 60;
/** What a spectrum says that knows offset to 0.5 eV, gain to 1e-4, noise to 1 eV and the Fano factor to 1 %. */
const SIGMA = [0.5, 1e-4, 1, 0.01];
const header = { offsetEv: 10, gainEv: 20 };

function estimate(offsetEv: number, more: Partial<InstrumentEstimate> = {}, gain = 0): InstrumentEstimate {
  const information = Array.from({ length: 16 }, (_, i) => (i % 5 === 0 ? 1 / SIGMA[i / 5] ** 2 : 0));
  const values = [offsetEv, gain, NOISE, 0];
  const vector = values.map((value, i) => information[i * 5] * value);
  return { header, information, vector, artefacts: [], ratios: [], thickWindow: false, rate: null, ...more };
}
const untimed = (all: readonly InstrumentEstimate[]): TimedEstimate[] =>
  all.map((one) => ({ estimate: one, time: null }));
const session = (count: number, more: Partial<InstrumentEstimate> = {}): TimedEstimate[] =>
  untimed(Array.from({ length: count }, (_, i) => estimate(4 + 0.1 * (i % 3), more)));

describe('the instrument of a session', () => {
  it('is known from three other spectra on', () => {
    expect(shareInstrument(session(2)).knowledge(null, null)).toBeNull();
    expect(shareInstrument(session(3)).knowledge(null, null)).toMatchObject({ spectra: 3 });
    expect(shareInstrument(session(3)).knowledge(null, null, 1)).toBeNull();
    expect(shareInstrument(session(4)).knowledge(null, null, 1)).toMatchObject({ spectra: 3 });
    expect(shareInstrument([]).knowledge(null, null)).toBeNull();
  });

  it('is told from the header’s axis, and no better than the lines themselves are known', () => {
    const known = shareInstrument(session(40)).knowledge(null, null)!;
    expect(Math.abs(known.axis.offsetEv - 14.1)).toBeLessThan(0.05);
    expect(Math.abs(known.axis.gainEv - 20)).toBeLessThan(0.001);
    expect(Math.abs(known.noiseEv.mean - NOISE)).toBeLessThan(0.5);
    expect(Math.abs(known.fano.mean / DEFAULT_DETECTOR.fano - 1)).toBeLessThan(0.005);
    expect(known.positionSigmaEv).toBeGreaterThanOrEqual(0.5);
    expect(known.gainSigma).toBeGreaterThanOrEqual(1e-4);
    expect(known.noiseEv.sigma).toBeGreaterThanOrEqual(1);
    expect(known.fano.sigma / DEFAULT_DETECTOR.fano).toBeGreaterThanOrEqual(0.005);
    // Nearly nothing more than that is left of forty spectra.
    expect(known.positionSigmaEv).toBeLessThan(0.65);
    expect(known.noiseEv.sigma).toBeLessThan(1.3);
    expect(known.fano.sigma / DEFAULT_DETECTOR.fano).toBeLessThan(0.008);
  });

  it('follows a drift where every spectrum has its time, and none where one lacks it', () => {
    const drifting = Array.from({ length: 21 }, (_, i) => ({ estimate: estimate(3 * (i / 10 - 1)), time: i / 10 - 1 }));
    const offset = (all: readonly TimedEstimate[], time: number | null): number =>
      shareInstrument(all).knowledge(time, null)!.axis.offsetEv - header.offsetEv;
    expect(Math.abs(offset(drifting, 1) - 3)).toBeLessThan(0.2);
    expect(Math.abs(offset(drifting, -1) + 3)).toBeLessThan(0.2);
    expect(Math.abs(offset(drifting, null))).toBeLessThan(0.1);
    const oneLacks = drifting.map((one, i) => (i === 10 ? { ...one, time: null } : one));
    expect(offset(oneLacks, 1)).toBe(offset(oneLacks, -1));
  });
});

describe('a spectrum of another setting', () => {
  const withOne = (offsetEv: number, gain = 0) =>
    shareInstrument([...session(9), ...untimed([estimate(offsetEv, {}, gain)])]);

  it('is left out, in offset or in gain, and says nothing then', () => {
    for (const shared of [withOne(60), withOne(4, 0.03)]) {
      expect(shared.outlying).toEqual([9]);
      expect(shared.knowledge(null, null)).toMatchObject({ spectra: 9 });
      // What is left out is nobody's own: the others are as many.
      expect(shared.knowledge(null, null, 9)).toMatchObject({ spectra: 9 });
      expect(Math.abs(shared.knowledge(null, null)!.axis.offsetEv - 14.1)).toBeLessThan(0.1);
    }
    expect(withOne(5).outlying).toEqual([]);
  });

  it('is none where half of them differ: there is no common instrument to speak of', () => {
    const settings = (first: number, second: number): TimedEstimate[] =>
      untimed([...Array<number>(first).fill(0), ...Array<number>(second).fill(200)].map((offset) => estimate(offset)));
    expect(shareInstrument(settings(7, 2)).outlying).toEqual([7, 8]);
    expect(shareInstrument(settings(3, 3)).outlying.length).toBeLessThanOrEqual(3);
  });
});

describe('the window of a session', () => {
  const thick = (...said: readonly boolean[]): boolean | null =>
    shareInstrument(untimed(said.map((thickWindow) => estimate(4, { thickWindow })))).knowledge(null, null)!
      .thickWindow;

  it('is thick or thin where all spectra agree, and open where they do not', () => {
    expect(thick(true, true, true)).toBe(true);
    expect(thick(false, false, false)).toBe(false);
    expect(thick(false, true, true)).toBeNull();
  });
});

describe('what the detector adds', () => {
  const shelf = (value: number): ArtefactEstimate => ({ name: 'charge shelf', value, information: 1e10 });
  const pileUp = (value: number): ArtefactEstimate => ({ name: 'sum peaks', value, information: 1e16 });
  const told = (all: readonly TimedEstimate[], rate: number | null, own?: number) =>
    shareInstrument(all).knowledge(null, rate, own)!.artefacts;

  it('is told by three spectra at least, the one that is read not counted', () => {
    const [three, four] = [3, 4].map((count) => session(count, { artefacts: [shelf(0.004)] }));
    expect(told(three, null)['charge shelf']!.mean).toBeCloseTo(0.004, 4);
    expect(told(four, null, 0)['charge shelf']).toBeDefined();
    const two = [...session(2, { artefacts: [shelf(0.004)] }), ...session(3)];
    expect(told(two, null)['charge shelf']).toBeUndefined();
    expect(told([...three, ...session(1)], null, 0)['charge shelf']).toBeUndefined();
    expect(told([...three, ...session(1)], null, 3)['charge shelf']).toBeDefined();
  });

  it('is known no better than to its common doubt, and is never negative', () => {
    const known = told(session(30, { artefacts: [shelf(0.004)] }), null)['charge shelf']!;
    expect(known.sigma).toBeGreaterThanOrEqual(5e-4);
    expect(known.sigma).toBeLessThan(6e-4);
    expect(told(session(30, { artefacts: [shelf(-0.01)] }), null)['charge shelf']!.mean).toBe(0);
  });

  it('goes with the rate for pile-up: twice as much at twice the rate, nothing said without one', () => {
    const all = session(20, { artefacts: [pileUp(2e-4)], rate: 1000 });
    const known = told(all, 2000)['sum peaks']!;
    expect(known.mean).toBeCloseTo(4e-4, 6);
    expect(known.sigma / told(all, 1000)['sum peaks']!.sigma).toBeCloseTo(2, 9);
    expect(told(all, null)['sum peaks']).toBeUndefined();
    expect(told(session(20, { artefacts: [pileUp(2e-4)] }), 1000)['sum peaks']).toBeUndefined();
  });
});

import { expect, it } from 'vitest';
import type { PlainSpectrum } from '../reading.ts';
import { overlaid, topsOf } from './overlay.ts';

const LAID = { id: 'other.msa', to: 'time', atEv: 0 } as const;

const flat = (counts: number, gainEv: number, liveTimeS: number | null): PlainSpectrum => ({
  offsetEv: 0,
  gainEv,
  counts: Array.from({ length: 2000 / gainEv }, () => counts),
  liveTimeS,
});

it('lays another spectrum over this one, counts per eV compared, whatever the width of its channels', () => {
  const own = flat(100, 10, 60);
  // Twice the time and channels twice as wide: four times the counts in each.
  const other = flat(400, 20, 120);
  const byTime = overlaid({ ...LAID, to: 'time', atEv: 0 }, 'other', other, own);
  expect(byTime.counts[5]).toBeCloseTo(100, 9);
  expect(byTime.energyEv[5]).toBe(100);
  expect(overlaid({ ...LAID, to: 'counts', atEv: 0 }, 'other', other, own).counts[5]).toBeCloseTo(100, 9);
});

it('scales to a peak, and says where there is none', () => {
  const own = flat(100, 10, 60);
  const other = { ...flat(10, 10, null), counts: flat(10, 10, null).counts.map((value, i) => (i < 100 ? value : 0)) };
  expect(overlaid({ ...LAID, to: 'peak', atEv: 500 }, 'other', other, own).counts[50]).toBeCloseTo(100, 9);
  expect(() => overlaid({ ...LAID, to: 'peak', atEv: 1500 }, 'other', other, own)).toThrow('has no counts there');
  expect(() => overlaid({ ...LAID, to: 'time', atEv: 500 }, 'other', other, own)).toThrow(
    'does not state its live time',
  );
});

it('names stand above what is laid over, wherever its channels begin', () => {
  const energyEv = [0, 10, 20, 30];
  const curves = { energyEv, counts: [1, 9, 1, 1], total: [2, 2, 2, 2], background: [0, 0, 0, 0], layers: [] };
  const over = { ...LAID, name: 'other', energyEv: [-20, 0, 20], counts: [0, 0, 7] };
  expect([...topsOf(curves, [over])]).toEqual([2, 9, 7, 2]);
  expect([...topsOf(curves, [])]).toEqual([2, 9, 2, 2]);
});

import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import type { Instrument } from '../model/instrument.ts';
import { differingLines } from './differing-lines.ts';

const N = 1024;
const instrument: Instrument = { axis: { offsetEv: 0, gainEv: 20 }, detector: DEFAULT_DETECTOR };
const areas = new Float64Array(LINE_TABLE.count).fill(1);
const IRON = 26;
const flat = (height: number): Float64Array => new Float64Array(N).fill(height);
const differing = (first: Float64Array, second: Float64Array, range = { lo: 0, hi: N }, zs = [IRON]) =>
  differingLines(zs, areas, instrument, range, first, second);

describe('lines at which two explanations differ', () => {
  it('differ by 1.5 standard deviations of the first, whichever has more', () => {
    const [{ from, to }] = differing(flat(100), flat(0), { lo: 310, hi: 335 });
    const counts = 100 * (to - from);
    const apart = (sigmas: number): Float64Array => flat(100 + (sigmas * Math.sqrt(counts)) / (to - from));
    for (const [sigmas, lines] of [
      [1.51, 1],
      [1.49, 0],
      [-1.51, 1],
      [-1.49, 0],
    ])
      expect(differing(flat(100), apart(sigmas), { lo: 310, hi: 335 })).toHaveLength(lines);
  });

  it('are judged within one FWHM around them, on two channels at least', () => {
    const [line] = differing(flat(100), flat(0), { lo: 310, hi: 335 });
    // K-L of iron at 6.40 keV (X-Ray Data Booklet, table 1-2), FWHM about 135 eV.
    expect(Math.abs(line.energyEv - 6400)).toBeLessThan(10);
    expect(20 * (line.to - line.from)).toBeGreaterThanOrEqual(120);
    expect(20 * (line.to - line.from)).toBeLessThanOrEqual(180);
    expect([line.first, line.second]).toEqual([100 * (line.to - line.from), 0]);
    expect(differing(flat(100), flat(0), { lo: line.from, hi: line.from + 2 })).toHaveLength(1);
    expect(differing(flat(100), flat(0), { lo: line.from, hi: line.from + 1 })).toEqual([]);
  });

  it('are the four that differ most, the most first', () => {
    const rising = Float64Array.from({ length: N }, (_, i) => i);
    const lines = differing(rising, flat(0), { lo: 0, hi: N }, [IRON, 82]);
    expect(lines).toHaveLength(4);
    const weights = lines.map(({ weight }) => weight);
    expect(weights).toEqual([...weights].sort((a, b) => b - a));
  });
});

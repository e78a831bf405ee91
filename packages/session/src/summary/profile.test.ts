import { describe, expect, it } from 'vitest';
import { positionsHtml } from '../page/positions-section.ts';
import { profileRows } from '../results/profile-table.ts';
import { ELEMENT_SYMBOLS, type Point } from './point.ts';
import { profileOf } from './profile.ts';
import { sampleMapsOf } from './sample-map.ts';

const COUNT = ELEMENT_SYMBOLS.length;

/** An invented point that holds so much Pb, and C. */
function point(file: string, x: number, y: number, layer: number | null, pb: number, more: Partial<Point> = {}): Point {
  const [value, sigma] = [new Float32Array(COUNT).fill(NaN), new Float32Array(COUNT).fill(NaN)];
  const i = ELEMENT_SYMBOLS.indexOf('Pb');
  if (pb > 0) [value[i], sigma[i]] = [pb, 0.05];
  value[ELEMENT_SYMBOLS.indexOf('C')] = 0.4;
  const limit = new Float32Array(COUNT).fill(0.01);
  return { file, x, y, unit: 'mm', sample: 'S', layer, best: null, amounts: { value, sigma, limit }, ...more };
}

describe('the line through the points', () => {
  /** Layers 0.1 thick that rise towards (0.6, 0.8), far more spread along them than across. */
  const layered = [1, 2, 3].flatMap((layer) =>
    [-1, 0, 1].map((side) =>
      point(`${layer}${side}`, 0.06 * layer - 0.8 * side, 0.08 * layer + 0.6 * side, layer, layer / 10),
    ),
  );

  it('leads through the layers from the ground up, however far they reach sideways', () => {
    const { stations, symbols, throughLayers } = profileOf(layered)!;
    expect(throughLayers).toBe(true);
    expect(symbols).toEqual(['Pb']);
    expect(stations.map(({ point: { layer } }) => layer)).toEqual([1, 1, 1, 2, 2, 2, 3, 3, 3]);
    for (const { distance, point: its } of stations) expect(distance).toBeCloseTo(0.1 * (its.layer! - 1), 9);
  });

  it('follows points on a line, with layers in their order and without', () => {
    const down = [3, 2, 1].map((layer, i) => point(`${layer}`, i, 2 * i, layer, 0.1));
    expect(profileOf(down)!.stations.map(({ point: { layer } }) => layer)).toEqual([1, 2, 3]);
    const bare = down.map((one) => ({ ...one, layer: null }));
    expect(profileOf(bare)!.stations.map(({ distance }) => distance)).toEqual([
      0,
      expect.closeTo(Math.sqrt(5), 5),
      expect.closeTo(2 * Math.sqrt(5), 5),
    ]);
  });

  it('is none for scattered points without layers, too few points, or points all at one place', () => {
    expect(profileOf(layered.map((one) => ({ ...one, x: one.layer!, layer: null })))).toBeNull();
    expect(profileOf(layered.slice(0, 2))).toBeNull();
    expect(profileOf(layered.map((one) => ({ ...one, x: 1, y: 1 })))).toBeNull();
  });

  it('gives a row for each main element at each point; what is not seen has its limit only', () => {
    const rows = profileRows([profileOf([...layered, point('none', 0.06, 0.08, 1, 0)])!]).split('\n');
    expect(rows).toHaveLength(11);
    expect(rows).toContain('S,none,1,0.06,0.08,mm,0,Pb,,,0.01');
  });
});

describe('the part of the report on places', () => {
  it('draws each sample in the unit of most of its points, tells what it leaves out, and escapes names', () => {
    const points = [
      point('a', 0, 0, 1, 0.1),
      point('b<', 1, 1, 1, 0.1),
      point('c', 1000, 0, 1, 0.1, { unit: 'um' }),
      point('mount', 50, 50, null, 0),
      point('z', 3, 3, null, 0, { sample: null }),
    ];
    const html = positionsHtml(sampleMapsOf(points), 7);
    expect(html.match(/<g transform/g)).toHaveLength(3);
    expect(html).toContain('In another unit, not drawn: c');
    expect(html).toContain('Outside the layers, not drawn: mount');
    expect(html).toContain('7\u00a0spectra state no position');
    expect(html).toContain('0.5 mm');
    expect(html).not.toContain('b<,');
    expect(html).not.toMatch(/NaN|Infinity/);
  });

  it('is empty where no header tells a place', () => {
    expect(positionsHtml(sampleMapsOf([]), 3)).toBe('');
  });
});

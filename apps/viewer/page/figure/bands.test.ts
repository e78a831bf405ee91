import { describe, expect, it } from 'vitest';
import { nearestChannel, stack, summits } from './bands.ts';

const bump = (centre: number, height: number, n = 200) =>
  Array.from({ length: n }, (_, i) => height * Math.exp(-0.5 * ((i - centre) / 4) ** 2));
const add = (...parts: number[][]) => parts[0].map((_, i) => parts.reduce((sum, part) => sum + part[i], 0));

describe('the stack of layers', () => {
  const background = Array.from({ length: 200 }, () => 10);
  const [strong, weak] = [bump(80, 500), bump(86, 20)];
  const curves = {
    energyEv: background.map((_, i) => 10 * i),
    counts: background,
    total: add(background, strong, weak),
    background,
    layers: [
      { kind: 'element' as const, name: 'strong', counts: strong },
      { kind: 'element' as const, name: 'weak', counts: weak },
      { kind: 'artefact' as const, name: 'absent', counts: background.map(() => 0) },
    ],
  };
  const bands = stack(curves);
  const shift = add(bump(76, 30), bump(84, -30));
  const signed = stack({
    ...curves,
    total: add(curves.total, shift),
    layers: [...curves.layers, { kind: 'artefact', name: 'shift', counts: shift }],
  });

  it('has the smallest layer at the bottom and leaves out what has no counts', () =>
    expect(bands.map((band) => band.layer.name)).toEqual(['weak', 'strong']));

  it('rises from the background to the whole model, each layer as thick as its counts', () => {
    for (const { layer, runs } of signed) {
      for (const { from, lower, upper } of runs)
        lower.forEach((low, k) => expect(Math.abs(upper[k] - low - layer.counts[from + k])).toBeLessThan(1e-9));
    }
    const top = signed.at(-1)!.runs[0];
    expect(Math.abs(top.upper[76 - top.from] - (curves.total[76] + shift[76]))).toBeLessThan(1e-9);
    expect(signed.map(({ layer }) => layer.name)).toContain('shift');
  });

  it('draws a layer only where it adds something', () => {
    const run = bands[1].runs[0];
    expect(run.from).toBeGreaterThan(50);
    expect(run.to).toBeLessThan(110);
  });
});

it('finds the peaks of a layer, strongest first', () => {
  expect(summits(add(bump(40, 100), bump(120, 300)))).toEqual([120, 40]);
  expect(summits(new Array<number>(50).fill(0))).toEqual([]);
});

it('finds the channel nearest to an energy, inside the axis', () => {
  const energyEv = Float64Array.from({ length: 100 }, (_, i) => -5 + 10 * i);
  expect([-500, 0, 4, 6, 5000].map((ev) => nearestChannel(energyEv, ev))).toEqual([0, 1, 1, 1, 99]);
});

import { readingOf, readSpectrum } from '@limner/core';
import { expect, it } from 'vitest';
import { emsaText } from '../../../../tests/fixtures/emsa.ts';
import { LARGE, sketchFigure, SMALL } from '../page/sketch-figure.ts';
import { coarser, peakNamesIn, sketchOf } from './sketch.ts';

const reading = readingOf(readSpectrum(new TextEncoder().encode(emsaText('PbSO4')), { name: 'a.msa' }));
const sketch = sketchOf(reading);
const sum = (values: ArrayLike<number>): number => Array.from(values).reduce((all, value) => all + value, 0);

it('a sketch keeps the counts and the fit of the spectrum up to the beam energy', () => {
  const { curves, record } = reading;
  const perPoint = Math.round(sketch.stepEv / record.axis.gainEv.value);
  expect(sketch.counts.length).toBeLessThanOrEqual(400);
  const within = Array.from(curves.energyEv, (ev, i) =>
    ev >= 0 && ev <= 1000 * record.conditions.beamKev.value ? i : -1,
  );
  const counted = within.filter((i) => i >= 0);
  for (const kind of ['counts', 'fit'] as const) {
    const curve = kind === 'fit' ? curves.total : curves.counts;
    const whole = sum(counted.map((i) => curve[i]));
    expect(sum(sketch[kind]) * perPoint).toBeGreaterThan(0.995 * whole);
    expect(sum(sketch[kind]) * perPoint).toBeLessThan(1.005 * whole);
  }
  expect(sum(coarser(sketch).counts) * 2).toBeCloseTo(sum(sketch.counts), -2);
});

it('its picture names each strong peak once, over its place on the axis', () => {
  const names = peakNamesIn(reading.record);
  expect(names.map(({ symbol }) => symbol)).toEqual(expect.arrayContaining(['Pb', 'O']));
  for (const one of names)
    for (const other of names)
      if (one !== other && one.symbol === other.symbol)
        expect(Math.abs(one.energyEv - other.energyEv)).toBeGreaterThan(500);
  const large = sketchFigure(sketch, names, LARGE, 'a <spectrum>');
  expect(large).toContain('aria-label="a &lt;spectrum&gt;"');
  const lead = [...large.matchAll(/<text x="([\d.]+)" y="[\d.]+" text-anchor="middle">Pb</g)].map(([, x]) => Number(x));
  const last = sketch.firstEv + (sketch.counts.length - 1) * sketch.stepEv;
  const expected = (ev: number): number => 6 + ((ev - sketch.firstEv) / (last - sketch.firstEv)) * (LARGE.width - 12);
  expect(lead.some((x) => Math.abs(x - expected(2345)) < 5)).toBe(true);
  expect(large).not.toMatch(/NaN|Infinity|undefined/);
  expect(sketchFigure(coarser(sketch), names, SMALL, '').length).toBeLessThan(large.length);
});

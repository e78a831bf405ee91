import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { valueAt } from './column.ts';
import { edgeSteps } from './edge-steps.ts';
import type { Instrument } from './instrument.ts';

const instrument: Instrument = { axis: { offsetEv: 0, gainEv: 10 }, detector: DEFAULT_DETECTOR };
const of = (z: number, toKev = 20) => edgeSteps(z, instrument, 10, toKev * 100);
const channel = (ev: number): number => Math.round(ev / 10);

describe('steps of the continuum at absorption edges', () => {
  it('stand where the shells of the range have theirs', () => {
    // Edges of Fe K 7112 and L3 707 eV, Zn L3 1022 eV, Pb M5 2484 and L3 13035 eV: X-Ray Data Booklet, table 1-1.
    expect(of(26).map(({ family, at }) => [family, at])).toEqual([
      ['K', channel(7112)],
      ['L', channel(707)],
    ]);
    expect(of(30).map(({ family }) => family)).toEqual(['K', 'L']);
    expect(of(82).map(({ family }) => family)).toEqual(['L', 'M']);
    expect(of(82, 12).map(({ family }) => family)).toEqual(['M']);
    // Carbon K lies at 284 eV, boron K at 188 eV among the edges of noise and window.
    expect(of(6).map(({ family }) => family)).toEqual(['K']);
    expect(of(5)).toEqual([]);
  });

  it('fall by one across the greatest edge and fade away on both sides', () => {
    const [{ column, at, fwhm }] = of(26);
    const far = Math.ceil(2 * fwhm);
    const fall = valueAt(column, at - far) - valueAt(column, at + far);
    // Two widths to each side it has begun to fade.
    expect(fall).toBeGreaterThan(0.85);
    expect(fall).toBeLessThan(1);
    expect(valueAt(column, channel(7112 * 1.66))).toBe(0);
    expect(valueAt(column, channel(7112 / 1.66))).toBe(0);
    expect(Math.abs(valueAt(column, at))).toBeLessThan(0.06);
  });

  it('of several subshells stand in the ratio of their jumps', () => {
    const [{ column }] = of(82).filter(({ family }) => family === 'L');
    const fall = (ev: number): number => valueAt(column, channel(ev - 250)) - valueAt(column, channel(ev + 250));
    // Pb L3 13035, L2 15200, L1 15861 eV; jumps of 96, 42 and 18 cm2/g (xraylib 4.0.0: 66.3 -> 162, 111 -> 152, 139 -> 160, from memory).
    expect(fall(13035)).toBeGreaterThan(1.5 * fall(15200));
    expect(fall(15200)).toBeGreaterThan(fall(15861));
  });
});

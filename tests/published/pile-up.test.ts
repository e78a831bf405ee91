// Coincidences of photons and dead time.
import { describe, expect, it } from 'vitest';
import { realTimeS, recordedPerS } from '../../packages/core/src/detector/dead-time.ts';
import { withPileUp } from '../../packages/core/src/detector/pile-up.ts';

describe('sum peaks', () => {
  // Derived: Poisson arrivals, n2 t = 10 000 x 10 000 x 0.3e-6 = 30 per second at twice the energy; parents lose two for each.
  // Allowed 1 %: the next order, exp(-n t) and 1 / (1 + n t), is 0.6 %.
  it('Al Ka at 10 000 /s, 0.3 us: 30 /s at 2973 eV, 0.3 % of the parent', () => {
    const counts = new Float64Array(512);
    counts[149] = 10_000 * 100; // 1486.5 eV, 100 s
    const axis = { offsetEv: -3.5, gainEv: 10 };
    const together = { resolvingTimeS: 0.3e-6, blindTimeS: 0.3e-6, fastThresholdEv: 900, fastNoiseEv: 350 };
    const out = withPileUp(counts, axis, 100, together);
    const sums = out.subarray(295, 301);
    const perS = sums.reduce((a, b) => a + b, 0) / 100;
    expect(Math.abs(perS / 30 - 1)).toBeLessThan(0.01);
    const mean = sums.reduce((a, count, i) => a + count * (axis.offsetEv + axis.gainEv * (295 + i)), 0) / (100 * perS);
    expect(Math.abs(mean - 2973)).toBeLessThan(0.01);
    expect(Math.abs(perS / (out[149] / 100) / 0.003 - 1)).toBeLessThan(0.01);
    expect(Math.abs(10_000 - out[149] / 100 - 60)).toBeLessThan(0.6);
  });
});

// Own measurement on an open spectrum (4.0 million counts of a flake on silicon, 60 s, 20 % dead; net counts above straight backgrounds,
// November 2026): 2 x Si K is 2.45 ± 0.01 % of Si K, 3 x Si K 0.064 ± 0.007 % of it: 1.06 ± 0.12 times the square of the former.
describe('third order', () => {
  const MEASURED = { second: 0.0245, third: 6.4e-4 };
  const ratios = (): { second: number; third: number } => {
    const counts = new Float64Array(1024);
    counts[174] = 1e6;
    const times = { resolvingTimeS: 1e-8, blindTimeS: 1e-8, fastThresholdEv: 900, fastNoiseEv: 350 };
    // n t = 0.0245: the second order is n t of the first.
    const liveTimeS = (1e6 * times.resolvingTimeS) / MEASURED.second;
    const out = withPileUp(counts, { offsetEv: 0, gainEv: 10 }, liveTimeS, times);
    return { second: out[348] / out[174], third: out[522] / out[174] };
  };

  it('exists, of the size of a window that does not extend itself: half the square of the second', () => {
    const { second, third } = ratios();
    expect(Math.abs(second / MEASURED.second - 1)).toBeLessThan(1e-6);
    expect(Math.abs(third / (second * second) - 0.5)).toBeLessThan(1e-4);
  });

  // Known shortcoming: a window that each photon extends would give the square of the second, and that is what was measured.
  it('is half of what was measured', () => {
    expect(Math.abs(MEASURED.third / ratios().third - 2)).toBeLessThan((3 * 0.07) / 0.3);
  });
});

// G.F. Knoll, Radiation Detection and Measurement, chapter 4 (from memory): paralysable dead time, greatest output 1/(e t).
describe('dead time', () => {
  it('records most at 1 / dead time: 1 / e of what arrives', () => {
    const dead = 5e-6;
    const most = recordedPerS(1 / dead, dead);
    expect(Math.abs(most / (1 / (Math.E * dead)) - 1)).toBeLessThan(1e-12);
    for (const rate of [0.9 / dead, 1.1 / dead]) expect(recordedPerS(rate, dead)).toBeLessThan(most);
  });

  it('of 10 % at 10 000 /s is 10.5 us: 100 s live take 111.1 s', () => {
    const dead = -Math.log(0.9) / 10_000;
    expect(Math.abs(dead / 10.536e-6 - 1)).toBeLessThan(1e-4);
    expect(Math.abs(realTimeS(100, 10_000, dead) - 111.11)).toBeLessThan(0.01);
    expect(Math.abs(recordedPerS(10_000, dead) - 9000)).toBeLessThan(1e-6);
  });
});

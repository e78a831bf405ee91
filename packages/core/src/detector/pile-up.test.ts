import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from './detector.ts';
import { addLine, lineShape } from './line-shape.ts';
import { DEFAULT_PILE_UP, pileUpOfPart, withPileUp, type PileUp } from './pile-up.ts';
import { FWHM_PER_SIGMA, fwhmEv } from './resolution.ts';

const AXIS = { offsetEv: -95, gainEv: 10 };
const PLAIN: PileUp = { resolvingTimeS: 3e-7, blindTimeS: 3e-7, fastThresholdEv: 900, fastNoiseEv: 350 };
const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);
const energy = (i: number): number => AXIS.offsetEv + AXIS.gainEv * i;

function sticks(at: Record<number, number>, n = 1000): Float64Array {
  const out = new Float64Array(n);
  for (const [channel, counts] of Object.entries(at)) out[Number(channel)] = counts;
  return out;
}

describe('withPileUp', () => {
  it('gives pairs and triples of a line as a Poisson count within the window does', () => {
    // 0.02 photons per window: strong enough for triples to show.
    const photons = (0.02 / 3e-7) * 10;
    const out = withPileUp(sticks({ 150: photons }), AXIS, 10, PLAIN);
    const events = photons / 1.02;
    const near = (ev: number): number => sum(out.filter((_, i) => Math.abs(energy(i) - ev) < 25));
    const line = energy(150);
    [1, 0.02, 0.02 ** 2 / 2].forEach((share, k) => {
      expect(Math.abs(near((k + 1) * line) / (events * Math.exp(-0.02) * share) - 1)).toBeLessThan(1e-6);
    });
  });

  it('puts sums at the sum of the energies, cross sums twice, and loses no photon on the axis', () => {
    const out = withPileUp(sticks({ 150: 1e4, 250: 1e4 }), AXIS, 10, PLAIN);
    const part = (ev: number): { area: number; mean: number } => {
      let [area, moment] = [0, 0];
      out.forEach((count, i) => {
        if (Math.abs(energy(i) - ev) > 30) return;
        area += count;
        moment += count * energy(i);
      });
      return { area, mean: moment / area };
    };
    const [a, b] = [energy(150), energy(250)];
    for (const ev of [2 * a, a + b, 2 * b]) expect(Math.abs(part(ev).mean - ev)).toBeLessThan(1e-6);
    expect(Math.abs(part(a + b).area / part(2 * a).area - 2)).toBeLessThan(1e-9);
    // Energy is conserved: sums carry all of it.
    const carried = out.reduce((total, count, i) => total + count * energy(i), 0);
    expect(Math.abs(carried / (1e4 * (a + b)) - 1)).toBeLessThan(1e-7);
  });

  it('takes longer to tell photons apart that the fast channel does not see', () => {
    const [soft, hard] = [40, 400];
    const out = withPileUp(sticks({ [soft]: 1e4, [hard]: 1e4 }), AXIS, 10, DEFAULT_PILE_UP);
    const near = (ev: number): number => sum(out.filter((_, i) => Math.abs(energy(i) - ev) < 25));
    const [ss, sh, hh] = [2 * energy(soft), energy(soft) + energy(hard), 2 * energy(hard)].map(near);
    expect(Math.abs(sh / hh / 10 - 1)).toBeLessThan(0.01);
    expect(Math.abs(ss / hh / 5 - 1)).toBeLessThan(0.01);
  });

  it('gives sums the electronic noise once', () => {
    const counts = new Float64Array(1000);
    const detector = { ...DEFAULT_DETECTOR, surfaceLoss: 0, deepTail: 0 };
    addLine(counts, AXIS, lineShape(detector, 1487), 1e5);
    const width = (noiseEv: number): number => {
      const out = withPileUp(counts, AXIS, 10, PLAIN, noiseEv);
      const at = out.map((value, i) => (Math.abs(energy(i) - 2973) < 300 ? value : 0));
      const mean = at.reduce((a, c, i) => a + c * energy(i), 0) / sum(at);
      const variance = at.reduce((a, c, i) => a + c * (energy(i) - mean) ** 2, 0) / sum(at);
      // Less the width of a channel.
      return Math.sqrt(variance - 100 / 12) * FWHM_PER_SIGMA;
    };
    expect(Math.abs(width(detector.noiseEv) / fwhmEv(detector, 2974) - 1)).toBeLessThan(0.01);
    expect(width(0)).toBeGreaterThan(1.08 * fwhmEv(detector, 2974));
  });

  it('is the sum over all pairs, at rates where triples do not matter', () => {
    const counts = Float64Array.from({ length: 60 }, (_, i) => (i > 12 ? 50 + ((i * 37) % 23) : 0));
    const axis = { offsetEv: 0, gainEv: 10 };
    const out = withPileUp(counts, axis, 1, { ...PLAIN, resolvingTimeS: 1e-9, blindTimeS: 1e-9 });
    const lost = 2e-9 * sum(counts);
    counts.forEach((count, k) => {
      let pairs = 0;
      for (let i = 0; i <= k; i++) pairs += counts[i] * counts[k - i] * 1e-9;
      expect(Math.abs(out[k] - (count * (1 - lost) + pairs))).toBeLessThan(1e-8);
    });
  });

  it('of nothing is nothing, and no time apart leaves the counts', () => {
    expect(withPileUp(new Float64Array(10), AXIS, 1)).toEqual(new Float64Array(10));
    const counts = sticks({ 30: 5, 50: 7 }, 64);
    const out = withPileUp(counts, AXIS, 1, { ...PLAIN, resolvingTimeS: 0, blindTimeS: 0 });
    expect(Math.max(...out.map((value, i) => Math.abs(value - counts[i])))).toBeLessThan(1e-12);
  });
});

describe('pileUpOfPart', () => {
  it('finds the times that make the given part of the events sums', () => {
    const counts = sticks({ 40: 3e4, 150: 5e4, 250: 2e4 });
    for (const part of [0.001, 0.004, 0.05, 0.3]) {
      const out = withPileUp(counts, AXIS, 100, pileUpOfPart(counts, AXIS, 100, part));
      const alone = out[40] + out[150] + out[250];
      expect(Math.abs(1 - alone / sum(out) - part)).toBeLessThan(0.002 * part);
    }
    expect(pileUpOfPart(counts, AXIS, 100, 0)).toMatchObject({ resolvingTimeS: 0, blindTimeS: 0 });
  });

  it('stops where windows would overlap, rather than count less than none', () => {
    const photons = sticks({ 30: 2e5, 300: 8e5 });
    const slowest = pileUpOfPart(photons, AXIS, 1, 0.9, { ...DEFAULT_PILE_UP, resolvingTimeS: 1e-8 });
    const out = withPileUp(photons, AXIS, 1, slowest);
    expect(out.every((counts) => counts >= 0)).toBe(true);
    expect(sum(out)).toBeGreaterThan(0);
    expect(sum(out)).toBeLessThan(sum(photons));
  });
});

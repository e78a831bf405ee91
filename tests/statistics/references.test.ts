// Ratios against one reference on an instrument whose physics is bent: whether the uncertainty that is stated holds the truth as often as it says.
import { describe, expect, it } from 'vitest';
import { pairOf } from './reference-pairs.ts';

const PAIRS = Number(process.env['LIMNER_PAIRS'] ?? 12);
const SEED = Number(process.env['LIMNER_SEED'] ?? 52_000);

/** Printed for the full check. */
const tell = (text: string): void => {
  if (process.env['LIMNER_PAIRS'] !== undefined) process.stdout.write(`${text}\n`);
};

describe('a ratio measured against a reference', () => {
  const results = Array.from({ length: PAIRS }, (_, k) => pairOf(SEED + k)).filter((one) => one !== null);
  const inside = (sigmas: number): number =>
    results.filter(({ pull }) => Math.abs(pull) < sigmas).length / results.length;

  it('is within its 95 % interval about as often', () => {
    const spread = Math.sqrt((0.95 * 0.05) / results.length);
    tell(
      `${results.length} pairs: ${(100 * inside(1.96)).toFixed(1)} % inside 95 %, ${(100 * inside(1)).toFixed(1)} % inside 1 sigma`,
    );
    expect(results.length).toBeGreaterThan(PAIRS / 2);
    expect(inside(1.96)).toBeGreaterThan(0.95 - 3 * spread);
  });

  it('comes nearer to the truth than the standardless one', () => {
    const off = (of: (one: (typeof results)[number]) => number): number => {
      const sorted = results.map((one) => Math.abs(Math.log(of(one) / one.truth))).sort((a, b) => a - b);
      return sorted[sorted.length >> 1];
    };
    const [with_, without] = [off(({ ratio }) => ratio.value.value), off(({ ratio }) => ratio.standardless)];
    tell(`median error of ln(ratio): ${with_.toFixed(3)} with a reference, ${without.toFixed(3)} without`);
    expect(with_).toBeLessThan(without);
  });
});

import { describe, expect, it } from 'vitest';
import { angleOf, cos, sin } from './angle.ts';

const TURNS = Array.from({ length: 20_000 }, (_, i) => (i - 10_000) * 0.31);

describe('sine, cosine and arctangent', () => {
  it('are those of the engine to 3e-16', () => {
    const worst = TURNS.reduce(
      (most, x) => Math.max(most, Math.abs(sin(x) - Math.sin(x)), Math.abs(cos(x) - Math.cos(x))),
      0,
    );
    expect(worst).toBeLessThan(3e-16);
    expect([sin(0), cos(0)]).toEqual([0, 1]);
  });

  it('make angles from 0 to half a turn', () => {
    for (const x of [-1e9, -30, -1, -0.1, 0, 1e-9, 0.1, 1, 3, 1e9])
      for (const y of [1e-6, 0.5, 1, 20]) expect(Math.abs(angleOf(y, x) / Math.atan2(y, x) - 1)).toBeLessThan(1e-15);
  });
});

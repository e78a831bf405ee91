import { describe, expect, it } from 'vitest';
import { LAYER_COLOURS } from './palette.ts';

type Triple = readonly [number, number, number];

/**
 * Dichromat simulation on linear RGB: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, IEEE Trans. Vis. Comput. Graph. 15 (2009) 1291,
 * severity 1.0. Entered from memory; each row sums to 1, as white must stay white.
 */
const VISIONS: Record<string, readonly Triple[]> = {
  full: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

/** IEC 61966-2-1 (sRGB): from the coded to the linear value. */
const linear = (hex: string): Triple => {
  const value = (at: number) => {
    const coded = parseInt(hex.slice(at, at + 2), 16) / 255;
    return coded <= 0.04045 ? coded / 12.92 : ((coded + 0.055) / 1.055) ** 2.4;
  };
  return [value(1), value(3), value(5)];
};

const times = (rows: readonly Triple[], [r, g, b]: Triple): Triple =>
  rows.map((row) => Math.min(1, Math.max(0, row[0] * r + row[1] * g + row[2] * b))) as unknown as Triple;

/** CIE 1976 L*a*b* under D65 from linear sRGB (CIE 015; sRGB primaries of IEC 61966-2-1). */
function lab([r, g, b]: Triple): Triple {
  const f = (t: number) => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

const apart = (a: Triple, b: Triple): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** A colour difference of 2.3 is just noticeable (Mahy et al. 1994); ours are asked for almost ten times as much. */
const CLEARLY_APART = 20;

describe.each(Object.entries(VISIONS))('layer colours seen with %s vision', (_name, rows) => {
  const seen = LAYER_COLOURS.map((colour) => lab(times(rows, linear(colour))));

  it('stay clearly apart from each other', () => {
    const close: string[] = [];
    for (let i = 0; i < seen.length; i++) {
      for (let j = i + 1; j < seen.length; j++) {
        if (apart(seen[i], seen[j]) < CLEARLY_APART)
          close.push(`${LAYER_COLOURS[i]} ${LAYER_COLOURS[j]} ${apart(seen[i], seen[j]).toFixed(1)}`);
      }
    }
    expect(close).toEqual([]);
  });
});

it('neighbours in order differ in lightness, so that they part in grey', () => {
  const lightness = LAYER_COLOURS.map((colour) => lab(linear(colour))[0]);
  const steps = lightness.slice(1).map((value, i) => Math.abs(value - lightness[i]));
  expect(Math.min(...steps)).toBeGreaterThan(15);
});

it('simulated vision keeps white white', () => {
  for (const rows of Object.values(VISIONS))
    for (const value of times(rows, [1, 1, 1])) expect(Math.abs(value - 1)).toBeLessThan(1e-4);
});

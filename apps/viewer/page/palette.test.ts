import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { LAYER_COLOURS, looksOf } from './palette.ts';

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

/** The custom properties of a style sheet of the page. */
const sheet = (name: string): Map<string, string> => {
  const text = readFileSync(new URL(name, import.meta.url), 'utf8');
  return new Map([...text.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, key, value]) => [key, value]));
};
const LOOKS = ['style/colours.css', 'style/dark.css'] as const;
const layersIn = (name: string): string[] =>
  Array.from({ length: LAYER_COLOURS }, (_, i) => sheet(name).get(`layer-${i + 1}`)!);

const cases = LOOKS.flatMap((name) => Object.entries(VISIONS).map(([vision, rows]) => ({ name, vision, rows })));

describe.each(cases)('layer colours of $name seen with $vision vision', ({ name, rows }) => {
  it('stay clearly apart from each other', () => {
    const colours = layersIn(name);
    const seen = colours.map((colour) => lab(times(rows, linear(colour))));
    const close: string[] = [];
    for (let i = 0; i < seen.length; i++) {
      for (let j = i + 1; j < seen.length; j++) {
        if (apart(seen[i], seen[j]) < CLEARLY_APART)
          close.push(`${colours[i]} ${colours[j]} ${apart(seen[i], seen[j]).toFixed(1)}`);
      }
    }
    expect(close).toEqual([]);
  });
});

it.each(LOOKS)('neighbours in order differ in lightness in %s, so that they part in grey', (name) => {
  const lightness = layersIn(name).map((colour) => lab(linear(colour))[0]);
  const steps = lightness.slice(1).map((value, i) => Math.abs(value - lightness[i]));
  expect(Math.min(...steps)).toBeGreaterThan(15);
});

/** Contrast ratio of WCAG 2.2. */
function contrast(a: string, b: string): number {
  const [x, y] = [a, b].map(linear).map(([r, g, bl]) => 0.2126 * r + 0.7152 * g + 0.0722 * bl);
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

it.each(LOOKS)('text of %s stands out from its paper as WCAG 2.2 AA asks', (name) => {
  const colours = sheet(name);
  for (const paper of ['paper', 'sheet'])
    for (const text of ['ink', 'faded', 'accent', 'fault', 'fit'])
      expect(contrast(colours.get(text)!, colours.get(paper)!), `${text} on ${paper}`).toBeGreaterThanOrEqual(4.5);
});

it('an element keeps its colour in all spectra; of two that share one, the weaker is dotted', () => {
  const one = looksOf([
    { symbol: 'Pb', z: 82 },
    { symbol: 'Zn', z: 30 },
    { symbol: 'Ca', z: 20 },
  ]);
  const other = looksOf([
    { symbol: 'Zn', z: 30 },
    { symbol: 'Ca', z: 20 },
  ]);
  expect(one.get('Zn')!.colour).toBe(other.get('Zn')!.colour);
  expect([one.get('Pb')!.dotted, one.get('Zn')!.dotted, other.get('Zn')!.dotted]).toEqual([false, true, false]);
});

it('simulated vision keeps white white', () => {
  for (const rows of Object.values(VISIONS))
    for (const value of times(rows, [1, 1, 1])) expect(Math.abs(value - 1)).toBeLessThan(1e-4);
});

import type { Reading } from '@limner/core';

/**
 * The counts of an invented lead-tin yellow grain: Gaussians on a smooth background, seeded noise. Line energies from the X-Ray Data Booklet,
 * Table 1-2; all amounts are invented.
 */
export const CHANNELS = 2048;
const GAIN_EV = 10;

type FixtureLine = readonly [line: string, siegbahn: string | null, energyEv: number, counts: number];

export const ELEMENT_LINES: Record<string, readonly FixtureLine[]> = {
  C: [['K-L3', 'Kα1', 277, 2100]],
  O: [['K-L3', 'Kα1', 524.9, 6400]],
  Si: [['K-L3', 'Kα1', 1739.98, 260]],
  Sn: [
    ['L3-M5', 'Lα1', 3443.98, 21_000],
    ['L2-M4', 'Lβ1', 3662.8, 13_800],
    ['L3-N5', 'Lβ2', 3904.86, 4900],
    ['L2-N4', 'Lγ1', 4131.12, 1500],
  ],
  Pb: [
    ['M5-N7', 'Mα1', 2345.5, 52_000],
    ['M4-N6', 'Mβ', 2442, 21_000],
    ['L3-M1', 'Ll', 9184.5, 240],
    ['L3-M5', 'Lα1', 10_551.5, 5200],
    ['L2-M4', 'Lβ1', 12_613.7, 2300],
    ['L2-N4', 'Lγ1', 14_764.4, 260],
  ],
};

const fwhmEv = (energyEv: number): number => Math.sqrt(60 ** 2 + 2.45 * energyEv);

/** Counts per channel of a Gaussian line. */
function gaussian(energyEv: number, counts: number): Float64Array {
  const sigma = fwhmEv(energyEv) / 2.3548;
  return Float64Array.from({ length: CHANNELS }, (_, i) => {
    const t = (i * GAIN_EV - energyEv) / sigma;
    return Math.abs(t) > 6 ? 0 : (counts * GAIN_EV * Math.exp(-0.5 * t * t)) / (sigma * Math.sqrt(2 * Math.PI));
  });
}

const added = (parts: readonly Float64Array[]): Float64Array =>
  parts.reduce((sum, part) => sum.map((value, i) => value + part[i]), new Float64Array(CHANNELS));

/** Gaussian noise of Poisson variance from a small seeded generator. */
function noisy(expected: Float64Array, seed: number): Float64Array {
  let state = seed;
  const next = () => (state = (state * 1_103_515_245 + 12_345) % 2_147_483_648) / 2_147_483_648;
  return expected.map((mean) => {
    const gauss = Math.sqrt(-2 * Math.log(next() + 1e-12)) * Math.cos(2 * Math.PI * next());
    return Math.max(0, Math.round(mean + gauss * Math.sqrt(mean)));
  });
}

export const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);

export function curvesOf(): Reading['curves'] {
  const energyEv = Float64Array.from({ length: CHANNELS }, (_, i) => i * GAIN_EV);
  const inFit = (ev: number) => ev >= 150 && ev <= 19_500;
  const background = energyEv.map((ev) =>
    inFit(ev) ? (420 * (20_000 - ev)) / (ev + 900) / (1 + (700 / (ev + 50)) ** 3) / 20 : 0,
  );
  const layers = Object.entries(ELEMENT_LINES).map(([name, lines]) => ({
    kind: 'element' as const,
    name,
    counts: added(lines.map(([, , energy, counts]) => gaussian(energy, counts))),
  }));
  const escape = { kind: 'artefact' as const, name: 'escape', counts: gaussian(3443.98 - 1740, 190) };
  const all = [...layers, escape];
  const model = added([background, ...all.map(({ counts }) => counts)]);
  const odd = gaussian(5412, 900);
  return { energyEv, counts: noisy(added([model, odd]), 7), total: model, background, layers: all };
}

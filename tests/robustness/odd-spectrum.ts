// The odd spectra that readings are tried on: any shape that a legal file can hold, drawn from a seed.
import { uniform } from '../fixtures/uniform.ts';

const CHANNELS = [8, 64, 256, 1024, 1024, 2048, 2048, 2048, 4096, 8192, 16384, 65536];
/** From this seed on most are small, so that thousands can be read; one of 40 has as many channels as there may be. */
const SMALL_FROM = 1000;
const SMALL = [
  8, 9, 11, 16, 16, 24, 32, 32, 48, 64, 64, 64, 100, 128, 128, 200, 256, 256, 256, 300, 400, 512, 512, 1000,
].concat([8, 16, 32, 33, 64, 65, 127, 128, 255, 256, 512, 1024, 2048, 4096, 8192, 65536]);

/** The text of an odd spectrum and what it is, in a few words. @param mostChannels of more it is given that many */
export function oddSpectrum(seed: number, mostChannels = Infinity): { readonly text: string; readonly told: string } {
  const next = uniform(seed * 2654435761 + 12345);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)];
  const between = (a: number, b: number): number => a + next() * (b - a);
  const magnitude = (low: number, high: number): number => low * (high / low) ** next();
  const n = Math.min(mostChannels, pick(seed < SMALL_FROM ? CHANNELS : SMALL));
  const gain = pick([5, 10, 20, Number(magnitude(0.1, 100).toPrecision(3))]);
  const offset = pick([0, 0, Math.round(between(-2000, 2000))]);
  const beam = pick([null, 5, 15, 20, 25, Number(magnitude(1, 300).toPrecision(3))]);
  const [kind, shape] = pick(shapes(n, gain, offset, pick, between));
  const level = magnitude(1, 1e6);
  const total = pick([null, null, null, 1e12, 60, 1e7]);
  const raw = Array.from({ length: n }, (_, i) => level * shape(i));
  const scale =
    total === null
      ? 1
      : total /
        Math.max(
          1,
          raw.reduce((sum, y) => sum + y, 0),
        );
  const counts = raw.map((y) => poisson(Math.max(0, y * scale), next));
  return {
    text: emsaText(seed, counts, gain, offset, beam),
    told: `${kind}, ${n} channels of ${gain} eV from ${offset}, ${beam ?? 'no'} keV, ${counts.reduce((a, b) => a + b, 0).toPrecision(3)} counts`,
  };
}

type Shape = (channel: number) => number;

function shapes(
  n: number,
  gain: number,
  offset: number,
  pick: <T>(list: readonly T[]) => T,
  between: (a: number, b: number) => number,
): readonly (readonly [string, Shape])[] {
  const peaks = Array.from({ length: pick([1, 2, 3, 8]) }, (): [number, number] => [between(0, n), between(0.1, 1)]);
  const width = Math.max(0.5, between(30, 80) / gain);
  const peak = (i: number, [centre, height]: readonly [number, number]): number =>
    height * Math.exp(-0.5 * ((i - centre) / width) ** 2);
  const every = pick([2, 3, 10, 50]);
  const edge = Math.floor(between(0, n));
  const spectral: Shape = (i) => peaks.reduce((sum, one) => sum + 100 * peak(i, one), Math.exp((-3 * i) / n));
  return [
    ['flat', () => 1],
    ['step up', (i) => (i >= edge ? 1 : 0.01)],
    ['step down', (i) => (i < edge ? 1 : 0)],
    ['stairs', (i) => 1 + Math.floor(i / Math.max(1, n / every))],
    ['comb', (i) => (i % every === 0 ? 1 : 0)],
    ['one channel', (i) => (i === edge ? 1000 : 0)],
    ['one channel on a floor', (i) => (i === edge ? 1000 : 1)],
    ['ramp', (i) => i / n],
    ['fall', (i) => 1 / (1 + i)],
    ['waves', (i) => 1 + Math.sin(i / every)],
    ['peaks anywhere', (i) => peaks.reduce((sum, one) => sum + peak(i, one), 0)],
    ['peaks on a continuum', spectral],
    ['zero peak alone', (i) => Math.exp(-0.5 * ((offset + gain * i) / 60) ** 2)],
  ];
}

/** Scattered as counts are; above 30 by the normal distribution. */
function poisson(mean: number, next: () => number): number {
  if (mean > 30) {
    const normal = Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
    return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal));
  }
  let count = -1;
  for (let product = 1; product > Math.exp(-mean); count++) product *= 1 - next();
  return Math.max(0, count);
}

function emsaText(seed: number, counts: readonly number[], gain: number, offset: number, beam: number | null): string {
  const header = {
    FORMAT: 'EMSA/MAS Spectral Data File',
    VERSION: '1.0',
    TITLE: `odd ${seed}`,
    NPOINTS: counts.length,
    NCOLUMNS: 1,
    XUNITS: 'eV',
    YUNITS: 'counts',
    DATATYPE: 'Y',
    XPERCHAN: gain,
    OFFSET: offset,
    SIGNALTYPE: 'EDS',
    ...(beam !== null && { BEAMKV: beam }),
    SPECTRUM: '',
  };
  const lines = Object.entries(header).map(([key, value]) => `#${key.padEnd(12)}: ${value}`);
  return [...lines, ...counts.map((count) => `${count},`), '#ENDOFDATA   :', ''].join('\n');
}

import { PROFILE_WORDS } from '@limner/core';
import type { Amount, Profile } from '../summary/profile.ts';
import { escape } from './report-parts.ts';

/** Drawing units, about a pixel on a screen: it fits a page of 420 px. */
const [WIDTH, HEIGHT, LEFT, RIGHT, TOP] = [360, 84, 46, 12, 12];
/** More marks than this would hide each other: of more stations, evenly spaced ones are drawn. */
const MOST_STATIONS = 300;
const INK = '#1d1d1b';

/** Mass fractions along a line, a small graph per element: a dot with its standard uncertainty, or an open triangle at the detection limit where the element is not seen. @param caption for those who cannot see it */
export function profileFigure({ symbols, stations: all, unit }: Profile, caption: string): string {
  const every = Math.ceil(all.length / MOST_STATIONS);
  const stations = all.filter((_, i) => i % every === 0 || i === all.length - 1);
  const last = stations.at(-1)!.distance || 1;
  const xOf = (distance: number): number => LEFT + (distance / last) * (WIDTH - LEFT - RIGHT);
  const graphs = symbols.map((symbol, i) => graphOf(stations, i, symbol, xOf));
  const height = symbols.length * HEIGHT + 40;
  const y = symbols.length * HEIGHT + 8;
  return [
    `<svg class="graph" role="img" aria-label="${escape(caption)}" viewBox="0 0 ${WIDTH} ${height}" width="${WIDTH}" height="${height}">`,
    ...graphs,
    `<text x="${LEFT}" y="${y + 10}">0</text>`,
    `<text x="${WIDTH - RIGHT}" y="${y + 10}" text-anchor="end">${escape(PROFILE_WORDS.end(last, unit))}</text>`,
    `<text x="${(LEFT + WIDTH - RIGHT) / 2}" y="${y + 10}" text-anchor="middle">${PROFILE_WORDS.distance}</text>`,
    '</svg>',
  ].join('\n');
}

function graphOf(stations: Profile['stations'], i: number, symbol: string, xOf: (distance: number) => number): string {
  const top = Math.max(...stations.map(({ amounts }) => topOf(amounts.at(i)!)), 1e-6);
  const bottom = (i + 1) * HEIGHT - 6;
  const span = HEIGHT - TOP - 10;
  const yOf = (value: number): number => bottom - (Math.max(0, value) / top) * span;
  const marks = stations.map(({ distance, amounts }) => markOf(amounts.at(i)!, xOf(distance), yOf));
  return [
    `<path d="M${LEFT - 4} ${round(bottom - span)}V${bottom}H${WIDTH - RIGHT + 6}" fill="none" stroke="#8a8578"/>`,
    `<text x="0" y="${round(bottom - span / 2)}" font-weight="bold">${symbol}</text>`,
    `<text x="${LEFT - 8}" y="${round(bottom - span + 4)}" text-anchor="end">${PROFILE_WORDS.top(top)}</text>`,
    `<text x="${LEFT - 8}" y="${bottom}" text-anchor="end">0</text>`,
    ...marks,
  ].join('');
}

const topOf = ({ seen, limit }: Amount): number => (seen ? seen.value + seen.sigma : (limit ?? 0));

function markOf({ seen, limit }: Amount, x: number, yOf: (value: number) => number): string {
  const at = round(x);
  if (seen !== null) {
    const [low, high] = [yOf(seen.value - seen.sigma), yOf(seen.value + seen.sigma)].map(round);
    return `<path d="M${at} ${low}V${high}" stroke="${INK}"/><circle cx="${at}" cy="${round(yOf(seen.value))}" r="3" fill="${INK}"/>`;
  }
  if (limit === null) return '';
  const y = round(yOf(limit));
  return `<path d="M${round(x - 4)} ${y}h8l-4 6z" fill="#fff" stroke="${INK}"/>`;
}

const round = (value: number): number => Math.round(value * 10) / 10;

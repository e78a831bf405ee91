import type { PeakName, Sketch } from '../summary/sketch.ts';
import { escape } from './report-parts.ts';

/** Size of a drawing, in its own units: about a pixel on a screen. */
interface Size {
  readonly width: number;
  readonly height: number;
  readonly letters: number;
}

export const LARGE: Size = { width: 680, height: 165, letters: 11 };
export const SMALL: Size = { width: 210, height: 96, letters: 10 };

export const SKETCH_STYLE = `
svg.sketch { display: block; width: 100%; height: auto; overflow: visible; }
svg.sketch.large { max-width: 46rem; margin: 0.6rem 0; }
.sketches { display: grid; grid-template-columns: repeat(auto-fill, minmax(12.5rem, 1fr)); gap: 0.6rem 1rem; margin: 1rem 0; }
.sketches figure { margin: 0; break-inside: avoid; }
.sketches figcaption { font-size: 0.85rem; }
`.trim();

/** Room for names above the tallest peak, and for the axis below, in heights of a letter. */
const [NAMES, AXIS] = [2.6, 1.5];
const SIDE = 6;

/**
 * A fitted spectrum: the counts as a grey area, the fit as a line, its background dotted, the strong lines by their elements. Heights are square roots of counts,
 * so that the noise is as thick everywhere. @param caption for those who cannot see it
 */
export function sketchFigure(sketch: Sketch, names: readonly PeakName[], size: Size, caption: string): string {
  const { width, height, letters } = size;
  const foot = height - AXIS * letters;
  const points = sketch.counts.length;
  const tallest = Math.sqrt(Math.max(1, ...sketch.counts, ...sketch.fit));
  const xOf = (i: number): number => Math.round(10 * (SIDE + (i / Math.max(1, points - 1)) * (width - 2 * SIDE))) / 10;
  // The same for all three curves.
  const across = sketch.counts.map((_, i) => String(xOf(i)));
  const point = (value: number, i: number): string => `${across[i] ?? ''} ${yOf(value)}`;
  const yOf = (counts: number): number =>
    Math.round(10 * (foot - (Math.sqrt(Math.max(0, counts)) / tallest) * (foot - NAMES * letters))) / 10;
  // A curve is drawn where the spectrum was fitted: it is zero outside.
  const path = (curve: readonly number[]): string =>
    `M${curve.flatMap((value, i) => (value > 0 ? point(value, i) : [])).join('L')}`;
  const area = `M${xOf(0)} ${foot}L${sketch.counts.map(point).join('L')}V${foot}z`;
  const at = (energyEv: number): number => (energyEv - sketch.firstEv) / sketch.stepEv;
  return [
    `<svg class="sketch${size === LARGE ? ' large' : ''}" role="img" aria-label="${escape(caption)}" viewBox="0 0 ${width} ${height}" font-size="${letters}">`,
    `<path d="${area}" fill="#d3d0c8"/>`,
    `<path d="${path(sketch.background)}" fill="none" stroke="#1d1d1b" stroke-width="0.6" stroke-dasharray="1 2"/>`,
    `<path d="${path(sketch.fit)}" fill="none" stroke="#1d1d1b" stroke-width="0.8"/>`,
    axisOf(sketch, foot, size, (energyEv) => xOf(at(energyEv))),
    ...placed(names, sketch, size, { at, xOf, yOf }),
    '</svg>',
  ].join('');
}

/** A tick each so many keV: the first of these that leaves room for its number. */
const STEPS_KEV = [1, 2, 5, 10, 20];
const LEAST_STEP = 38;

function axisOf(
  { firstEv, stepEv, counts }: Sketch,
  foot: number,
  { width, height }: Size,
  xOf: (energyEv: number) => number,
): string {
  const lastKev = (firstEv + (counts.length - 1) * stepEv) / 1000;
  const step = STEPS_KEV.find((kev) => (kev / lastKev) * width >= LEAST_STEP) ?? 50;
  const ticks = Array.from({ length: Math.floor(lastKev / step) + 1 }, (_, i) => i * step).filter(
    (kev) => 1000 * kev >= firstEv,
  );
  const line = `<path d="M${SIDE} ${foot}H${width - SIDE}${ticks.map((kev) => `M${xOf(1000 * kev)} ${foot}v3`).join('')}" fill="none" stroke="#1d1d1b" stroke-width="0.6"/>`;
  const texts = ticks.map((kev) => `<text x="${xOf(1000 * kev)}" y="${height - 1}" text-anchor="middle">${kev}</text>`);
  return line + texts.join('');
}

interface Scale {
  readonly at: (energyEv: number) => number;
  readonly xOf: (i: number) => number;
  readonly yOf: (counts: number) => number;
}

/** Names above their peaks, strongest first: none on another, none on the curve; what finds no place is left out. A name in italics is of an element that stays open. */
function placed(names: readonly PeakName[], { counts, fit }: Sketch, { width, letters }: Size, scale: Scale): string[] {
  const boxes: { readonly left: number; readonly right: number; readonly foot: number }[] = [];
  return names.flatMap(({ symbol, energyEv, open }) => {
    const i = Math.round(scale.at(energyEv));
    if (i < 0 || i >= counts.length) return [];
    const half = (0.34 * symbol.length + 0.1) * letters;
    const x = scale.xOf(i);
    const per = (width - 2 * SIDE) / Math.max(1, counts.length - 1);
    const around = Math.ceil(half / per);
    const under = Math.max(...counts.slice(Math.max(0, i - around), i + around + 1), fit[i] ?? 0);
    let foot = scale.yOf(under) - 3;
    const beside = boxes
      .filter(({ left, right }) => x - half < right && x + half > left)
      .sort((a, b) => b.foot - a.foot);
    for (const box of beside) if (foot > box.foot - letters && foot < box.foot + letters) foot = box.foot - letters;
    if (foot < letters || x - half < 0 || x + half > width || scale.yOf(counts[i] ?? 0) - foot > 2.4 * letters)
      return [];
    boxes.push({ left: x - half, right: x + half, foot });
    return [
      `<text x="${x}" y="${Math.round(10 * foot) / 10}" text-anchor="middle"${open ? ' font-style="italic"' : ''}>${escape(symbol)}</text>`,
    ];
  });
}

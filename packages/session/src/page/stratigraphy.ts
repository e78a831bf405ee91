import { type LayerTold, layerLines } from '@limner/core';
import type { Grain, LayerSummary, SampleSummary } from '../summary/layers.ts';
import { escape } from './report-parts.ts';

/** More marks than this would hide a layer's text, which states the number of grains. */
const MOST_MARKS = 60;
/** Greys that stay apart on paper: they are no colours of the paint. */
const FILLS = ['#f2f1ef', '#dbdad7', '#c3c2bf'] as const;

export const STRATIGRAPHY_STYLE = `
.layers { margin: 1rem 0; max-width: 46rem; font-size: 0.9rem; line-height: 1.35; }
.layers > div { display: grid; grid-template-columns: clamp(5.5rem, 28%, 9.5rem) 1fr; gap: 0 1rem; break-inside: avoid; }
.layers > div > :first-child { border: 1px solid currentColor; margin-top: -1px; padding: 0.4rem; print-color-adjust: exact; }
.layers p { margin: 0; }
.layers > div > :last-child { padding: 0.5rem 0; }
.layers svg { width: 22px; height: 22px; }
`.trim();

/** A sample's layers with the surface on top, its grains numbered in that order; grains outside the layers have no number. */
export function numbered({ layers }: SampleSummary): { readonly grain: Grain; readonly number: number | null }[] {
  const top = [...layers].reverse();
  const inside = top.filter(({ layer }) => layer !== null).flatMap(({ grains }) => grains);
  const outside = top.filter(({ layer }) => layer === null).flatMap(({ grains }) => grains);
  return [
    ...inside.map((grain, i) => ({ grain, number: i + 1 })),
    ...outside.map((grain) => ({ grain, number: null })),
  ];
}

/** What core tells of a layer. */
export function layerTold({ layer, grains, elements, materials, odd, dated, notBefore }: LayerSummary): LayerTold {
  return {
    layer: layer ?? 0,
    grains: grains.length,
    elements,
    materials: materials.map(({ material, grains: n }) => ({ name: material.name, alike: material.alike, grains: n })),
    odd: odd.map(({ file }) => file),
    date: notBefore && {
      ...notBefore.dating,
      file: notBefore.grain.file,
      own: dated?.grain === notBefore.grain,
    },
  };
}

/** A sample's layers from the ground (bottom) to the surface, a numbered mark for each grain, and beside each layer what was found in it. */
export function stratigraphy(sample: SampleSummary, caption: string): string {
  const built = sample.layers.filter(({ layer }) => layer !== null).reverse();
  if (built.length === 0) return '';
  const numbers = new Map(numbered(sample).map(({ grain, number }) => [grain, number]));
  const bands = built.map((layer) => bandOf(layer, numbers));
  return `<figure class="layers" aria-label="${escape(caption)}">\n${bands.join('\n')}\n</figure>`;
}

function bandOf(layer: LayerSummary, numbers: ReadonlyMap<Grain, number | null>): string {
  const fill = FILLS.at(((layer.layer ?? 1) - 1) % FILLS.length)!;
  const text = layerLines(layerTold(layer)).map(
    (line, i) => `<p>${i === 0 ? `<b>${escape(line)}</b>` : escape(line)}</p>`,
  );
  const marks = layer.grains
    .slice(0, MOST_MARKS)
    .map((grain) => markOf(grain, numbers.get(grain) ?? 0, layer.odd.includes(grain)));
  return `<div><div style="background: ${fill}">${marks.join('')}</div><div>${text.join('')}</div></div>`;
}

/** A ring with the grain's number; a filled square for a grain that differs from its layer. */
function markOf({ file, found }: Grain, number: number, odd: boolean): string {
  const title = `<title>${escape(file)}: ${escape(found.best?.name ?? found.present.join(' '))}</title>`;
  const shape = odd
    ? '<rect x="1.5" y="1.5" width="19" height="19" fill="#1d1d1b"/>'
    : '<circle cx="11" cy="11" r="9.5" fill="#fff" stroke="#1d1d1b" stroke-width="1.2"/>';
  const text = `<text x="11" y="14.6" text-anchor="middle" font-size="${number > 99 ? 8.5 : 10.5}" fill="${odd ? '#fff' : '#1d1d1b'}">${number}</text>`;
  return `<svg role="img" viewBox="0 0 22 22">${title}${shape}${text}</svg>`;
}

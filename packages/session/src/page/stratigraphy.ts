import { yearText } from '@limner/core';
import type { Grain, LayerSummary, SampleSummary } from '../summary/layers.ts';
import { escape } from './report-parts.ts';

const MOST_ELEMENTS = 8;
const MOST_MATERIALS = 4;
/** More marks than this would hide a layer's text, which states the number of grains. */
const MOST_MARKS = 60;
/** Fills that stay apart in grey and for every kind of colour vision: they differ in lightness first. */
const FILLS = ['#efe9da', '#b9c4cf', '#8d8f86'] as const;

export const STRATIGRAPHY_STYLE = `
.layers { margin: 1rem 0; max-width: 42rem; font-size: 0.9rem; line-height: 1.35; }
.layers > div { display: grid; grid-template-columns: clamp(5.5rem, 28%, 9.5rem) 1fr; gap: 0 1rem; break-inside: avoid; }
.layers > div > :first-child { border: 1px solid currentColor; margin-top: -1px; padding: 0.4rem; print-color-adjust: exact; }
.layers p { margin: 0; }
.layers > div > :last-child { padding: 0.5rem 0; }
.layers svg { width: 18px; height: 18px; }
`.trim();

/** A sample's layers from the ground (bottom) to the surface, a mark for each grain, and beside each layer what was found in it. */
export function stratigraphy({ sample, layers }: SampleSummary): string {
  const built = layers.filter(({ layer }) => layer !== null).reverse();
  if (built.length === 0) return '';
  const label = `Layers of ${sample}, surface at the top`;
  return `<figure class="layers" aria-label="${escape(label)}">\n${built.map(bandOf).join('\n')}\n</figure>`;
}

function bandOf(layer: LayerSummary): string {
  const fill = FILLS.at(((layer.layer ?? 1) - 1) % FILLS.length)!;
  const text = linesOf(layer).map((line, i) => `<p>${i === 0 ? `<b>${escape(line)}</b>` : escape(line)}</p>`);
  const marks = layer.grains.slice(0, MOST_MARKS).map((grain) => markOf(grain, layer.odd.includes(grain)));
  return `<div><div style="background: ${fill}">${marks.join('')}</div><div>${text.join('')}</div></div>`;
}

/** A full mark for a grain, an open one with a bar for a grain that differs from its layer. */
function markOf({ file, found }: Grain, odd: boolean): string {
  const title = `<title>${escape(file)}: ${escape(found.best?.name ?? found.present.join(' '))}</title>`;
  const shape = odd
    ? '<g fill="#fff" stroke="#1d1d1b" stroke-width="2"><circle cx="9" cy="9" r="6"/><path d="M3 9h12"/></g>'
    : '<circle cx="9" cy="9" r="5" fill="#1d1d1b"/>';
  return `<svg role="img" viewBox="0 0 18 18">${title}${shape}</svg>`;
}

function linesOf({ layer, grains, elements, materials, odd, notBefore }: LayerSummary): string[] {
  const of = (count: number): string => `${count}/${grains.length}`;
  const found = elements.slice(0, MOST_ELEMENTS).map(({ symbol, grains: n }) => `${symbol} ${of(n)}`);
  const fits = materials
    .slice(0, MOST_MATERIALS)
    .map(({ material, grains: n }) => `${material.name}${material.alike > 0 ? ' (or alike)' : ''} ${of(n)}`);
  const sentences = [
    `Layer ${layer}, ${grains.length} ${grains.length === 1 ? 'grain' : 'grains'}`,
    found.length > 0 ? found.join(', ') : 'no element is required by the counts',
    fits.length > 0 ? `Fits best: ${fits.join('; ')}` : '',
    notBefore
      ? `Not before about ${yearText(notBefore.dating.year)}, on the evidence of ${notBefore.dating.symbol} in ${notBefore.grain.file}`
      : '',
    odd.length > 0 ? `Differs from its layer: ${odd.map(({ file }) => file).join(', ')}` : '',
  ];
  return sentences.filter((line) => line !== '');
}

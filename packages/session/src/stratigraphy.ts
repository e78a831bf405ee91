import { wrap, yearText } from '@limner/core';
import type { LayerSummary, SampleSummary } from './layers.ts';
import { escape } from './report-parts.ts';

/** Drawing units; about a pixel on a screen, 0.26 mm on paper. */
const [WIDTH, BAND, LINE, PAD] = [640, 150, 17, 9];
/** Characters of a line of text beside the bands, at its size. */
const LINE_CHARACTERS = 68;
const MOST_ELEMENTS = 8;
const MOST_MATERIALS = 4;
/** Fills that stay apart in grey and for every kind of colour vision: they differ in lightness first. */
const FILLS = ['#efe9da', '#b9c4cf', '#8d8f86'] as const;

/** A sample's layers from the ground (bottom) to the surface, with a mark for each grain, and what was found beside each. */
export function stratigraphy({ sample, layers }: SampleSummary): string {
  const built = layers.filter(({ layer }) => layer !== null).reverse();
  if (built.length === 0) return '';
  let y = 0;
  const bands = built.map((layer) => {
    const lines = linesOf(layer);
    const height = Math.max(3 * LINE, lines.length * LINE) + 2 * PAD;
    const drawn = bandOf(layer, lines, y, height);
    y += height;
    return drawn;
  });
  const label = `Layers of ${sample}, surface on top: ${built.map((layer) => linesOf(layer).join(' ')).join('; ')}`;
  return [
    `<div class="wide"><svg class="layers" role="img" aria-label="${escape(label)}" viewBox="0 0 ${WIDTH} ${y + 2}" width="${WIDTH}" height="${y + 2}">`,
    ...bands,
    '</svg></div>',
  ].join('\n');
}

function bandOf(layer: LayerSummary, lines: readonly string[], y: number, height: number): string {
  const fill = FILLS.at(((layer.layer ?? 1) - 1) % FILLS.length)!;
  const text = lines.map((line, i) => {
    const weight = i === 0 ? ' font-weight="bold"' : '';
    return `<text x="${BAND + 16}" y="${y + PAD + 13 + i * LINE}"${weight}>${escape(line)}</text>`;
  });
  return [
    `<rect x="1" y="${y + 1}" width="${BAND}" height="${height}" fill="${fill}" stroke="#1d1d1b"/>`,
    ...marks(layer, y, height),
    ...text,
  ].join('');
}

/** A full mark for a grain, an open one with a bar for one that disagrees; at most as many as fit. */
function marks({ grains, odd }: LayerSummary, y: number, height: number): string[] {
  const perRow = 7;
  const rows = Math.max(1, Math.floor((height - 2 * PAD) / 18));
  return grains.slice(0, perRow * rows).map((grain, i) => {
    const [cx, cy] = [21 + (i % perRow) * 18, y + PAD + 9 + Math.floor(i / perRow) * 18];
    const title = `<title>${escape(grain.file)}: ${escape(grain.found.best?.name ?? grain.found.present.join(' '))}</title>`;
    if (!odd.includes(grain)) return `<circle cx="${cx}" cy="${cy}" r="5" fill="#1d1d1b">${title}</circle>`;
    return `<g fill="#fff" stroke="#1d1d1b" stroke-width="2">${title}<circle cx="${cx}" cy="${cy}" r="6"/><path d="M${cx - 6} ${cy}h12"/></g>`;
  });
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
      ? `Not before about ${yearText(notBefore.dating.year)}, argues ${notBefore.dating.symbol} in ${notBefore.grain.file}`
      : '',
    odd.length > 0 ? `Differs from its layer: ${odd.map(({ file }) => file).join(', ')}` : '',
  ];
  return sentences.filter((line) => line !== '').flatMap((line) => wrap(line, 0, 0, LINE_CHARACTERS));
}

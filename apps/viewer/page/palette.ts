/**
 * The page's colours are custom properties of its style sheets (style/colours.css, style/dark.css). Elements of the page name them; the figure, which
 * needs values, reads them here each time that it is drawn.
 */
export interface Inks {
  readonly ink: string;
  readonly grid: string;
  readonly fit: string;
  readonly background: string;
  readonly artefact: string;
  readonly accent: string;
  readonly layers: readonly string[];
}

export const LAYER_COLOURS = 8;

export function inksNow(): Inks {
  const style = getComputedStyle(document.documentElement);
  const of = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return {
    ink: of('ink'),
    grid: of('grid'),
    fit: of('fit'),
    background: of('background-fill'),
    artefact: of('artefact'),
    accent: of('accent'),
    layers: Array.from({ length: LAYER_COLOURS }, (_, i) => of(`layer-${i + 1}`)),
  };
}

/** The same in greys, for a print without colour: layers keep their lightness, the fit is black on grey counts. */
export function greyOf({ grid, background, artefact, layers }: Inks): Inks {
  return {
    ink: '#6b6b6b',
    fit: '#000000',
    accent: '#000000',
    grid: grey(grid),
    background: grey(background),
    artefact: grey(artefact),
    layers: layers.map(grey),
  };
}

function grey(hex: string): string {
  const [r, g, b] = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16));
  // Luma of ITU-R BT.709, near enough to lightness for a print.
  const luma = Math.round(0.2126 * r + 0.7152 * g + 0.0722 * b);
  return `#${luma.toString(16).padStart(2, '0').repeat(3)}`;
}

/** How an element's layer looks, in every spectrum alike; of two that share a colour in one spectrum, the second is dotted. */
export interface LayerLook {
  /** 0 to LAYER_COLOURS - 1. */
  readonly colour: number;
  readonly dotted: boolean;
}

/** Elements that often meet in a grain of paint are kept apart; others follow their atomic number. */
const SHARING = [
  'Pb Zn Na Cl',
  'Ca Co Ba',
  'C K Mn As',
  'Fe Hg Cr P',
  'Sn Cu S',
  'Si Sr Ni Cd',
  'O N F Mg',
  'Al Ti Bi Sb Ag',
].map((symbols) => symbols.split(' '));

function colourOf(symbol: string, z: number): number {
  const named = SHARING.findIndex((symbols) => symbols.includes(symbol));
  return named < 0 ? z % LAYER_COLOURS : named;
}

/** @param elements strongest first */
export function looksOf(elements: readonly { readonly symbol: string; readonly z: number }[]): Map<string, LayerLook> {
  const taken = new Set<number>();
  const looks = new Map<string, LayerLook>();
  for (const { symbol, z } of elements) {
    const colour = colourOf(symbol, z);
    looks.set(symbol, { colour, dotted: taken.has(colour) });
    taken.add(colour);
  }
  return looks;
}

/** The colour of a layer for a style of the page. */
export const layerColour = (look: LayerLook | undefined): string =>
  look ? `var(--layer-${look.colour + 1})` : 'var(--artefact)';

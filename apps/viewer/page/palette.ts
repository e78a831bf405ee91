/**
 * Colours of the element layers, in order of use. Chosen for this page; palette.test.ts checks that neighbours in this order stay apart
 * for the three kinds of colour blindness and in grey. Colour is never the only mark: layers carry their names.
 */
export const LAYER_COLOURS = [
  '#1d5c63',
  '#d9a441',
  '#7d3c62',
  '#8fb8a2',
  '#2f4b8f',
  '#d0714f',
  '#4f4a2a',
  '#b9a7d6',
] as const;

export const INK = '#22262b';
export const FIT = '#b3261e';
export const BACKGROUND = '#c9c6bd';
export const ARTEFACT = '#6f6a63';

/** The colour of each element layer by symbol: the strongest element takes the first. */
export function coloursOf(symbols: readonly string[]): Map<string, string> {
  return new Map(symbols.map((symbol, i) => [symbol, LAYER_COLOURS[i % LAYER_COLOURS.length]]));
}

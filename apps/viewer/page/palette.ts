/**
 * Colours of the element layers, in order of use. Chosen for this page by a search for the set whose members stay farthest apart
 * for full colour vision and the three kinds of colour blindness, neighbours in grey too; palette.test.ts checks it. Colour is never
 * the only mark: layers carry their names.
 */
export const LAYER_COLOURS = [
  '#5aaac9',
  '#314398',
  '#bdba8e',
  '#71073a',
  '#eba941',
  '#656019',
  '#a0d8cc',
  '#ac505b',
] as const;

export const INK = '#22262b';
export const FIT = '#b3261e';
export const BACKGROUND = '#e4e2dc';
export const ARTEFACT = '#6f6a63';

/** The colour of each element layer by symbol: the strongest element takes the first. */
export function coloursOf(symbols: readonly string[]): Map<string, string> {
  return new Map(symbols.map((symbol, i) => [symbol, LAYER_COLOURS[i % LAYER_COLOURS.length]]));
}

import type { Sketch } from '../summary/sketch.ts';

/** The fitted spectra as the report draws them, a line each, in the order of the records. */
export const CURVES = 'curves.ndjson';
/** Every line begins with this. */
export const CURVES_BEGIN = '{"schema":"limner-curves/1"';

export const curvesLine = (file: string, sketch: Sketch): string =>
  `${JSON.stringify({ schema: 'limner-curves/1', file, ...sketch })}\n`;

/** What a line of that file holds. */
export function curvesIn(line: string): { readonly file: string; readonly sketch: Sketch } {
  const { file, firstEv, stepEv, counts, fit, background } = JSON.parse(line) as Sketch & { readonly file: string };
  return { file, sketch: { firstEv, stepEv, counts, fit, background } };
}

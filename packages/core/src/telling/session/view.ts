// Words over many spectra: the page's view of a session. The report's own are beside them.

import type { Measured } from '../../identify/finding.ts';
import { counted, fixed, listed, measured } from '../terms/numerals.ts';
import { VERDICTS } from '../sections/elements.ts';

/** What a session holds, in numbers. */
export interface SessionCount {
  readonly spectra: number;
  readonly samples: number;
  /** Of all samples together. */
  readonly layers: number;
  /** Spectra in which something stays open. */
  readonly open: number;
  /** Largest first. */
  readonly kinds: readonly { readonly name: string; readonly spectra: number }[];
  /** Spectra of no kind. */
  readonly alone: number;
  readonly failures: number;
}

/** Kinds named in the first sentence. */
const KINDS_NAMED = 3;

/** The session in a few sentences: what it holds, its kinds, what is open, what could not be read. */
export function sessionSummary({ spectra, samples, layers, open, kinds, alone, failures }: SessionCount): string {
  const common = kinds.slice(0, KINDS_NAMED).map((kind) => `${kind.name} (${fixed(kind.spectra, 0)})`);
  const places = samples > 0 ? ` from ${counted(layers, 'layer')} of ${counted(samples, 'sample')}` : '';
  return [
    `${spectraText(spectra)}${places}.`,
    kinds.length > 0
      ? `${fixed(spectra - alone, 0)} of them fall into ${counted(kinds.length, 'kind')}, the largest ${listed(common)}; ${fixed(alone, 0)} are unlike any other.`
      : '',
    open > 0 ? `Something is open in ${spectraText(open)}.` : 'Nothing is open.',
    failures > 0 ? `${counted(failures, 'file')} could not be read.` : '',
  ]
    .filter(Boolean)
    .join(' ');
}

export const spectraText = (count: number): string => counted(count, 'spectrum', 'spectra');

/** How many of a session's spectra are on show. */
export function choiceText(shown: number, all: number): string {
  if (shown === 0) return 'No spectrum matches. Relax the filters above.';
  return shown === all ? `All ${spectraText(all)}.` : `${fixed(shown, 0)} of ${spectraText(all)}.`;
}

/** How many spectra the list beside a reading holds. */
export const spectraListed = (listed: number, all: number): string =>
  listed === all ? spectraText(all) : `${fixed(listed, 0)} of ${spectraText(all)}, next to this one`;

/** Leads from the page to the session's report. */
export const TO_REPORT = {
  link: 'The report',
  holds: ', to print or pass on: a summary, a sheet for each sample, a page for each spectrum.',
} as const;

/** Beside a spectrum that is a copy of another. */
export const copyText = (of: string): string => `Copy of ${of}: identical content, counted once.`;

/** How to read the matrix of elements by spectrum. */
export const MATRIX_KEY =
  '● present, ○ open; the stronger the shade, the higher the mass fraction. Click a heading to sort.';

/** An element in one spectrum, as a cell of the matrix tells it. */
export interface MatrixElement {
  readonly symbol: string;
  readonly verdict: 'present' | 'open';
  readonly counts: Measured;
  readonly massFraction: Measured | null;
}

/** A cell of the matrix in words. */
export function matrixText({ symbol, verdict, counts, massFraction }: MatrixElement): string {
  const amount = massFraction ? `${measured(massFraction, 100)} % by mass` : 'amount unknown';
  return `${symbol} ${VERDICTS[verdict]}: ${amount}, ${measured(counts)} counts`;
}

/** Shades by mass fraction: 1 % and less, 10 %, 30 %, more. */
const SHADES = [0.01, 0.1, 0.3] as const;

/** 1 (little, or no amount told) to 4. */
export const shadeOf = ({ massFraction }: MatrixElement): number =>
  massFraction ? SHADES.filter((limit) => massFraction.value > limit).length + 1 : 1;

/** Where a spectrum was taken: 'P1, layer 2, g01'. @param layer null: outside the layers */
export function placeText(sample: string, layer: number | null, particle: string): string {
  return [sample, layerText(layer), particle].filter(Boolean).join(', ');
}

/** Where a spectrum is from whose sheet names no layer. */
export const OUTSIDE = 'outside the layers';
export const layerText = (layer: number | null): string => (layer === null ? OUTSIDE : `layer ${layer}`);

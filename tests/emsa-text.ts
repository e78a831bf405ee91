/** Small spectra as text, invented for tests. */

const HEADER = [
  '#FORMAT      : EMSA/MAS Spectral Data File',
  '#VERSION     : 1.0',
  '#TITLE       : Invented spectrum',
  '#DATE        : ',
  '#TIME        : ',
  '#OWNER       : ',
  '#NPOINTS     : 20',
  '#NCOLUMNS    : 1',
  '#XUNITS      : keV',
  '#YUNITS      : counts',
  '#DATATYPE    : Y',
  '#XPERCHAN    : 0.01',
  '#OFFSET      : -0.1',
];

/** Twenty counts, none like another, with the highest in channel 12. */
export const COUNTS = [0, 1, 3, 7, 12, 18, 25, 33, 42, 52, 63, 75, 88, 74, 61, 49, 38, 28, 19, 11];

/** Energies of the twenty channels in keV, at OFFSET -0.1 and XPERCHAN 0.01. */
export const ENERGIES_KEV = COUNTS.map((_, i) => Number((-0.1 + 0.01 * i).toFixed(2)));

export interface TextParts {
  /** Lines that replace the header line of the same keyword, or follow the header; 'KEYWORD' alone drops its line. */
  readonly header?: readonly string[];
  readonly rows?: readonly (string | number)[];
  readonly spectrum?: string;
  /** From ENDOFDATA on. */
  readonly tail?: string;
  readonly lineEnd?: string;
}

export function emsaText(parts: TextParts = {}): string {
  const lines = [...HEADER];
  for (const line of parts.header ?? []) {
    const keyword = /^#*\w+/.exec(line)![0];
    const at = lines.findIndex((old) => new RegExp(`^#?${keyword}\\b`).test(old));
    const drops = !line.startsWith('#');
    if (at >= 0 && !keyword.startsWith('##')) lines.splice(at, 1, ...(drops ? [] : [line]));
    else if (!drops) lines.push(line);
  }
  const all = [
    ...lines,
    parts.spectrum ?? '#SPECTRUM    : ',
    ...(parts.rows ?? COUNTS),
    parts.tail ?? '#ENDOFDATA   : ',
  ];
  return (
    all.filter((line) => line !== '').join(parts.lineEnd ?? '\n') + (parts.tail === '' ? '' : (parts.lineEnd ?? '\n'))
  );
}

export function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function latin1(text: string): Uint8Array {
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}

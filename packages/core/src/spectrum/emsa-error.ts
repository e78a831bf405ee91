/** Input that is no spectrum: what is wrong, where, and what to do about it. */
export class EmsaError extends Error {
  override readonly name = 'EmsaError';
  /** Stable, lower case with hyphens, e.g. 'axis-in-channels'. */
  readonly code: string;
  /** Line of the input where it shows, from 1; null when no single line is at fault. */
  readonly line: number | null;

  constructor(code: string, line: number | null, message: string) {
    super(line === null ? message : `Line ${line}: ${message}`);
    this.code = code;
    this.line = line;
  }
}

/** Text of the input for a message: short, and without control characters. */
export function quoted(text: string): string {
  // eslint-disable-next-line no-control-regex -- these are what must not reach a terminal
  const clean = text.slice(0, 41).replace(/[\u0000-\u001f\u007f-\u009f]/g, '?');
  return `'${clean.length > 40 ? `${clean.slice(0, 39)}…` : clean}'`;
}

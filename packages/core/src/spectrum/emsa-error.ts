import { asksForAxis, type ReadingFault, faultText } from './reading-fault.ts';

/** Input that is no spectrum: what is wrong, where, and what to do about it. */
export class EmsaError extends Error {
  override readonly name = 'EmsaError';
  /** Stable, lower case with hyphens, e.g. 'axis-in-channels'. */
  readonly code: ReadingFault['code'];
  /** Line of the input where it shows, from 1; null when no single line is at fault. */
  readonly line: number | null;
  /** Whether an axis given with the input would mend it; how one is given differs from application to application. */
  readonly asksForAxis: boolean;

  constructor(fault: ReadingFault, line: number | null = null) {
    const text = faultText(fault);
    super(line === null ? text.charAt(0).toUpperCase() + text.slice(1) : `Line ${line}: ${text}`);
    this.code = fault.code;
    this.line = line;
    this.asksForAxis = asksForAxis(fault);
  }
}

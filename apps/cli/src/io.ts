import { printable, TEXT_WIDTH } from '@limner/core';
import type { OutputError } from '@limner/session';

/** What a run of the command line talks to; the process's own in `main.ts`, buffers in tests. */
export interface Io {
  readonly stdin: AsyncIterable<Uint8Array>;
  readonly stdout: Sink;
  readonly stderr: Sink;
  /** Folder that relative paths start from. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** How a person calls Limner here. */
  readonly command: string;
  /** Resolves when the user asks a running viewer or batch to end (Ctrl-C). */
  readonly interrupted: () => Promise<void>;
}

export interface Sink {
  write(text: string): unknown;
  /** A terminal, where progress may overwrite itself. */
  readonly isTTY?: boolean;
  /** Characters per line of that terminal. */
  readonly columns?: number;
}

export const EXIT = {
  /** All done. */
  done: 0,
  /** Done, but some inputs failed; each is named. */
  someFailed: 1,
  /** Wrong usage; nothing was done. */
  usage: 2,
  /** Nothing could be read. */
  nothingRead: 3,
  /** The results could not be written. */
  notWritten: 3,
  /** Interrupted by SIGINT or SIGTERM: 128 + the number of SIGINT for both, since both end a run in the same way. */
  interrupted: 130,
} as const;

/** A command that cannot be carried out as it was given; the message says what and how else, a line for each fault. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** A file that the system does not let us write, through no fault of the command; the message says why. */
export class WriteError extends Error {
  override readonly name = 'WriteError';
}

/** What becomes of results that cannot be written: wrong usage only where another folder will do. */
export function refusal(error: OutputError): UsageError | WriteError {
  return new (error.taken ? UsageError : WriteError)(error.message, { cause: error });
}

/** Characters per line of what people read: the terminal's, or those of a page. */
export const widthOf = ({ stdout }: Io): number => (stdout.isTTY && stdout.columns ? stdout.columns : TEXT_WIDTH);

/** Writes one line that says what went wrong. */
export function complain(io: Io, message: string): void {
  io.stderr.write(`limner: ${printable(message)}\n`);
}

/** Exit code of a batch. */
export function exitCodeOf(read: number, failed: number): number {
  if (failed === 0) return EXIT.done;
  return read === 0 ? EXIT.nothingRead : EXIT.someFailed;
}

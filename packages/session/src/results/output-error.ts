import { messageOf } from '../input/load.ts';

/** The results cannot be written. */
export class OutputError extends Error {
  override readonly name = 'OutputError';
  /** Whether something else has that name, so that another one will do; otherwise the system refuses to write. */
  readonly taken: boolean;
  constructor(message: string, taken: boolean, options?: ErrorOptions) {
    super(message, options);
    this.taken = taken;
  }
}

const TAKEN: ReadonlySet<string> = new Set(['EEXIST', 'ENOTDIR', 'EISDIR']);
const ROOM = 'free some space and run the same command again';
const CAUSES: Readonly<Record<string, string>> = {
  ENOSPC: `the disk is full; ${ROOM}`,
  EDQUOT: `your disk quota is used up; ${ROOM}`,
  EFBIG: 'a file would be larger than this system or disk allows; give --out a folder on another disk',
  EROFS: 'the disk is read-only; give --out a folder on another disk',
  EACCES: 'you are not allowed to write there; check its permissions or give --out another folder',
  EPERM: 'you are not allowed to write there; check its permissions or give --out another folder',
  EEXIST: 'a file has that name; give --out another folder',
  ENOTDIR: 'a file has that name; give --out another folder',
  ENAMETOOLONG: 'the name is too long for this system; shorten it',
};

/** A system error in writing, with what to do about it. */
export function cannotWrite(where: string, error: unknown): OutputError {
  if (error instanceof OutputError) return error;
  const message = `${where}: the results cannot be written: ${causeInWriting(error)}`;
  return new OutputError(message, TAKEN.has(codeOf(error)), { cause: error });
}

/** A system error in writing, in words. */
export const causeInWriting = (error: unknown): string =>
  CAUSES[codeOf(error)] ?? `the system refused (${messageOf(error)})`;

const codeOf = (error: unknown): string => (error instanceof Error && 'code' in error ? String(error.code) : '');

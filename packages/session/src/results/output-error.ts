import { causeOf } from '../input/load.ts';

/** The results cannot be written. */
export class OutputError extends Error {
  override readonly name = 'OutputError';
}

/** A system error in writing, with what to do about it. */
export function cannotWrite(where: string, error: unknown): OutputError {
  if (error instanceof OutputError) return error;
  return new OutputError(`${where}: the results cannot be written there: ${causeInWriting(error)}`, { cause: error });
}

function causeInWriting(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : '';
  if (code === 'ENOSPC')
    return 'the disk is full; free some space and run the same command again, which goes on from there';
  if (code === 'EDQUOT' || code === 'EFBIG')
    return 'your share of the disk is full; free some space and run the same command again, which goes on from there';
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') return 'you are not allowed to write there';
  if (code === 'EEXIST' || code === 'ENOTDIR') return 'a file has that name; give --out another folder';
  return causeOf(error);
}

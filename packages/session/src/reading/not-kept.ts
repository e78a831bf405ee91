import { messageOf } from '../input/load.ts';
import { cannotWrite } from '../results/output-error.ts';

/** A result that could not be kept: a system error's code and message. Plain data, since errors lose their code on the way from a worker. */
export interface NotKept {
  readonly kind: 'not-kept';
  readonly name: string;
  readonly code: string;
  readonly message: string;
}

export function notKept(name: string, error: unknown): NotKept {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return { kind: 'not-kept', name, code, message: messageOf(error) };
}

/** What was kept. @param out folder of the results, for the error @throws OutputError */
export function expectKept<T extends { readonly kind: string }>(out: string, done: T | NotKept): Exclude<T, NotKept> {
  if (isNotKept(done)) throw cannotWrite(out, Object.assign(new Error(done.message), { code: done.code }));
  return done as Exclude<T, NotKept>;
}

const isNotKept = (done: { readonly kind: string }): done is NotKept => done.kind === 'not-kept';

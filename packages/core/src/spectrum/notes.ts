import type { Warning } from './spectrum.ts';

/** Collects warnings while reading: one per code, the first met. */
export class Notes {
  readonly #byCode = new Map<string, Warning>();

  add(code: string, text: string): void {
    if (!this.#byCode.has(code)) this.#byCode.set(code, { code, text });
  }

  list(): Warning[] {
    return [...this.#byCode.values()];
  }
}

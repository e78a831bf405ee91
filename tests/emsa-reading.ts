import { expect } from 'vitest';
import { EmsaError } from '../packages/core/src/spectrum/emsa-error.ts';
import { readSpectrum, type ReadOptions } from '../packages/core/src/spectrum/read.ts';
import type { Spectrum } from '../packages/core/src/spectrum/spectrum.ts';
import { COUNTS, emsaText, utf8, type TextParts } from './emsa-text.ts';

/** The axis of the invented spectrum. */
export const AXIS = { offsetEv: -100, gainEv: 10 };

/** Reads the invented spectrum, with these changes of its text. */
export function readText(parts: TextParts = {}, options: ReadOptions = {}): Spectrum {
  return readSpectrum(utf8(emsaText(parts)), options);
}

export function codes(spectrum: Spectrum): string[] {
  return spectrum.warnings.map(({ code }) => code);
}

/** The error that reading throws. @throws when it throws another, or none */
export function errorOf(act: () => unknown): EmsaError {
  try {
    act();
  } catch (error) {
    if (error instanceof EmsaError) return error;
    throw error;
  }
  throw new Error('The text was read, an error was expected.');
}

export function codeOf(act: () => unknown): string {
  return errorOf(act).code;
}

/** Counts and axis of the invented spectrum, whatever its spelling, and these warnings alone. */
export function expectUsual(spectrum: Spectrum, warnings: string[] = []): void {
  expect([...spectrum.counts]).toEqual(COUNTS);
  expect(spectrum.axis).toEqual(AXIS);
  expect(codes(spectrum)).toEqual(warnings);
}

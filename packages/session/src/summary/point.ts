import { CANDIDATE_ELEMENTS, type LimnerRecord, symbolOf } from '@limner/core';
import type { Position } from '../input/position.ts';

/** A spectrum with its position on the sample. */
export interface Point extends Position {
  readonly file: string;
  /** From the sample sheet; null without one. */
  readonly sample: string | null;
  readonly layer: number | null;
  readonly best: { readonly name: string } | null;
  readonly amounts: Amounts;
}

/** Mass fractions, their standard uncertainties and detection limits, in the order of `ELEMENT_SYMBOLS`; NaN where there is none. */
export interface Amounts {
  readonly value: Float32Array;
  readonly sigma: Float32Array;
  readonly limit: Float32Array;
}

export const ELEMENT_SYMBOLS: readonly string[] = CANDIDATE_ELEMENTS.map(symbolOf);

export function amountsIn({ elements }: LimnerRecord): Amounts {
  const empty = (): Float32Array => new Float32Array(ELEMENT_SYMBOLS.length).fill(NaN);
  const [value, sigma, limit] = [empty(), empty(), empty()];
  for (const { symbol, verdict, massFraction, limit: its } of elements) {
    const i = ELEMENT_SYMBOLS.indexOf(symbol);
    if (i < 0 || verdict === 'blind') continue;
    if (massFraction !== null && verdict !== 'not-seen') {
      value[i] = massFraction.value;
      sigma[i] = massFraction.sigma;
    }
    if (its !== null) limit[i] = its.massFraction;
  }
  return { value, sigma, limit };
}

import { type LimnerRecord, symbolOf, CANDIDATE_ELEMENTS } from '@limner/core';

/** Where the stage stood, in the unit that the header states. */
export interface Position {
  readonly x: number;
  readonly y: number;
  /** '' where none is stated. */
  readonly unit: string;
}

/** A spectrum with its place on the sample. */
export interface Point extends Position {
  readonly file: string;
  /** Of the samples' sheet; null without one. */
  readonly sample: string | null;
  readonly layer: number | null;
  readonly best: { readonly name: string } | null;
  readonly amounts: Amounts;
}

/** Mass fractions, their standard uncertainties and detection limits, by `AMOUNT_SYMBOLS`; NaN where not told. */
export interface Amounts {
  readonly value: Float32Array;
  readonly sigma: Float32Array;
  readonly limit: Float32Array;
}

export const AMOUNT_SYMBOLS: readonly string[] = CANDIDATE_ELEMENTS.map(symbolOf);

/** XPOSITION and YPOSITION of the header (ISO 22029); null unless both are numbers in one unit. */
export function positionIn(header: LimnerRecord['header']): Position | null {
  const [x, y] = ['XPOSITION', 'YPOSITION'].map((key) => {
    const { value = '', unit = '' } = header.find((entry) => entry.key === key) ?? {};
    return { value: value.trim() === '' ? NaN : Number(value.trim().replace(',', '.')), unit: unit.trim() };
  });
  if (!x || !y || !Number.isFinite(x.value) || !Number.isFinite(y.value) || x.unit !== y.unit) return null;
  return { x: x.value, y: y.value, unit: x.unit };
}

export function amountsIn({ elements }: LimnerRecord): Amounts {
  const empty = (): Float32Array => new Float32Array(AMOUNT_SYMBOLS.length).fill(NaN);
  const [value, sigma, limit] = [empty(), empty(), empty()];
  for (const { symbol, verdict, massFraction, limit: its } of elements) {
    const i = AMOUNT_SYMBOLS.indexOf(symbol);
    if (i < 0 || verdict === 'blind') continue;
    if (massFraction !== null && verdict !== 'not-seen') {
      value[i] = massFraction.value;
      sigma[i] = massFraction.sigma;
    }
    if (its !== null) limit[i] = its.massFraction;
  }
  return { value, sigma, limit };
}

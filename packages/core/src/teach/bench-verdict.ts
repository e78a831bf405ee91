import { identify } from '../reading/identify.ts';
import { probabilityText } from '../telling/terms/numerals.ts';
import { benchSpectrum } from './bench.ts';
import type { BenchState } from './bench-state.ts';
import { verdictSentence } from './bench-words.ts';

/** The third speed: what `limner identify` says of the spectrum, which knows nothing of the recipe. */
export interface BenchVerdict {
  /** What is present and what is open, in a sentence. */
  readonly told: string;
  /** Elements with verdict and probability, present ones first. */
  readonly rows: readonly { readonly symbol: string; readonly verdict: string; readonly probability: string }[];
}

/** The full reading of a state’s spectrum, made without its recipe. */
export function benchVerdict(state: BenchState): BenchVerdict {
  const { elements } = identify(benchSpectrum(state));
  const told = elements.filter(({ verdict }) => verdict === 'present' || verdict === 'open');
  const of = (wanted: string): string[] => told.filter(({ verdict }) => verdict === wanted).map(({ symbol }) => symbol);
  return {
    told: verdictSentence(of('present'), of('open')),
    rows: told
      .map(({ symbol, verdict, probability }) => ({ symbol, verdict, probability: probabilityText(probability) }))
      .sort((a, b) => Number(b.verdict === 'present') - Number(a.verdict === 'present')),
  };
}

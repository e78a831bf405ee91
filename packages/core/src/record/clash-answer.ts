import type { Clash } from '../peaks/clash.ts';
import type { KnownClash } from '../pigments/knowledge.ts';
import type { Overlap } from '../plan/overlap.ts';

/** What can be said of elements whose lines fall together: the answers, the lines behind them, and what practice advises. */
export interface ClashAnswer {
  readonly overlap: Overlap;
  readonly lines: Clash;
  readonly advice: readonly KnownClash[];
}

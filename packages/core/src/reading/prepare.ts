import { sumOver } from '../arithmetic/sum.ts';
import { atomicNumber, UnknownElementError } from '../atomic/elements.ts';
import { NotPositiveDefiniteError } from '../fit/cholesky.ts';
import type { Claim } from '../identify/claim.ts';
import type { ExplainConditions } from '../identify/contender.ts';
import { explain, type Explanation } from '../identify/explain.ts';
import { instrumentPull } from '../identify/instrument-estimate.ts';
import { mountOrigins } from '../identify/mount.ts';
import type { InstrumentKnowledge } from '../model/instrument-knowledge.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { WarningData } from '../telling/words/warnings.ts';
import { claimsOf } from './asked.ts';
import { conditionsOf, type Conditions, type PrepareOptions } from './conditions.ts';

/** A spectrum that holds too little to read. */
export class TooFewCountsError extends Error {
  override readonly name = 'TooFewCountsError';
}

/** Counts that no model of a spectrum can be fitted to. */
export class UnexplainableError extends Error {
  override readonly name = 'UnexplainableError';
}

/** A spectrum and its options, checked and settled: what every conductor starts from. */
export interface Prepared {
  readonly spectrum: Spectrum;
  readonly conditions: Conditions;
  /** Origin of each element (by Z) that the mounting may add. */
  readonly origins: ReturnType<typeof mountOrigins>;
  /** In the order given. */
  readonly claimed: readonly Claim[];
  /** Atomic numbers, in the order given. */
  readonly barred: readonly number[];
  readonly instrument: InstrumentKnowledge | null;
  readonly totalCounts: number;
}

/** Fewest counts in a spectrum that are worth a reading. */
const MIN_COUNTS = 50;

/** @throws UnknownMountError, UnknownElementError, UnusableClaimError, TooFewCountsError */
export function prepare(spectrum: Spectrum, options: PrepareOptions): Prepared {
  const origins = mountOrigins(options.mount ?? []);
  const barred = (options.without ?? []).map(atomicNumber);
  return {
    spectrum,
    conditions: conditionsOf(spectrum, options),
    origins,
    claimed: claimsOf(options.claim ?? []),
    barred,
    instrument: options.instrument ?? null,
    totalCounts: enoughCounts(spectrum),
  };
}

const nameOf = ({ source }: Spectrum): string => source.name || 'the spectrum';

function enoughCounts(spectrum: Spectrum): number {
  const counted = sumOver(spectrum.counts);
  if (counted >= MIN_COUNTS) return counted;
  throw new TooFewCountsError(
    `${nameOf(spectrum)} has ${counted} counts; at least ${MIN_COUNTS} are needed; count for longer`,
  );
}

/** An explanation, and what of the session's knowledge it was found with. */
export interface Explained {
  readonly explanation: Explanation;
  readonly known: InstrumentKnowledge | null;
  readonly warnings: readonly WarningData[];
}

/** Pull of a spectrum on what its session knows, in standard deviations, beyond which that is not used. */
const DIFFERS = 4;

/**
 * Explains with the session's knowledge of the instrument; where the counts contradict that, without it, and says so.
 */
export function explained(prepared: Prepared): Explained {
  const known = prepared.instrument;
  const explanation = explainedWith(prepared, known);
  const pull = known && instrumentPull(explanation);
  if (!pull || pull.sigmas <= DIFFERS) return { explanation, known, warnings: [] };
  return {
    explanation: explainedWith(prepared, null),
    known: null,
    warnings: [{ code: 'instrument-differs', ...pull }],
  };
}

/**
 * Explains with what is known of the instrument, whether the counts agree or not.
 * @param without atomic numbers that may not be used: what would take their place is only proposed, not compared
 */
export function explainedWith(
  prepared: Prepared,
  instrument: InstrumentKnowledge | null,
  {
    without = [],
    compared = without.length === 0,
  }: { readonly without?: readonly number[]; readonly compared?: boolean } = {},
): Explanation {
  return explain(prepared.spectrum, { ...underOf(prepared, instrument, without), compared });
}

/** What a spectrum is explained under. @param without atomic numbers that may not be used */
export function underOf(
  { conditions, origins }: Prepared,
  instrument: InstrumentKnowledge | null,
  without: readonly number[],
): ExplainConditions {
  return {
    beamEv: conditions.beamKev.value * 1000,
    takeOffDeg: conditions.takeOffDeg.value,
    mounted: new Set(origins.keys()),
    instrument,
    without,
  };
}

/**
 * What a conductor does with a spectrum; whatever fails inside names the spectrum and says what to check.
 * @throws UnexplainableError, and the errors of `prepare`
 */
export function guarded<Result>(spectrum: Spectrum, read: () => Result): Result {
  try {
    return read();
  } catch (error) {
    const fault = faultIn(error);
    if (fault === null) throw error;
    throw new UnexplainableError(`${nameOf(spectrum)}: ${fault}`, { cause: error });
  }
}

/** An error that no one was meant to see, in words; null for those that say themselves what to do. */
function faultIn(error: unknown): string | null {
  if (error instanceof NotPositiveDefiniteError)
    return 'the counts do not look like an X-ray spectrum on this axis; check the axis and the beam energy';
  if (error instanceof UnknownElementError) return null;
  if (error instanceof TypeError || error instanceof RangeError)
    return `the reading failed (${error.message}); check the axis and the beam energy, and report the file if both are right`;
  return null;
}

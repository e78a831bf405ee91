import { symbolOf, zOf } from '../atomic/elements.ts';
import { DATA_VERSION } from '../atomic/version.ts';
import { NotPositiveDefiniteError } from '../fit/cholesky.ts';
import { pValueOf, regionsOf } from '../fit/quality.ts';
import { ledgerOf, partsOf, type Part } from '../identify/ledger.ts';
import { explain, type ExplainConditions, type Explanation } from '../identify/explain.ts';
import { findingsOf } from '../identify/findings.ts';
import { mountOrigins } from '../identify/mount.ts';
import { channelEnergies } from '../model/instrument.ts';
import { brightnessOf } from '../pigments/brightness.ts';
import { datingArguments } from '../pigments/dating.ts';
import { dateQuestions } from '../pigments/out-of-place.ts';
import { PIGMENT_DATA_VERSION } from '../pigments/knowledge.ts';
import { matchGrain } from '../pigments/match.ts';
import { materialsInUse, replacedBy } from '../pigments/own-materials.ts';
import { elementRatios } from '../pigments/ratios.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { axisSummary } from '../record/axis-summary.ts';
import { answerClaims } from '../record/claims.ts';
import { conditionsOf, type IdentifyOptions } from './conditions.ts';
import { cautionsFor } from '../telling/words/cautions.ts';
import { wordedClaim, wordedWithout } from '../telling/words/claim.ts';
import { wordedDateQuestion, wordedDating } from '../telling/words/dates.ts';
import { wordedFinding } from '../telling/words/finding-reason.ts';
import { namedExplanation, wordedStanding } from '../telling/words/standing-reason.ts';
import { poorFit, type WarningData, wordedWarning } from '../telling/words/warnings.ts';
import { dispersionOf } from '../record/dispersion.ts';
import { explainKnowing } from './instrument.ts';
import { peakList } from '../record/peaks.ts';
import type { Curves, Reading } from './reading.ts';
import { RECORD_SCHEMA_ID, type LimnerRecord, type WithoutAnswer } from '../record/record.ts';
import { SOFTWARE_VERSION } from '../record/version.ts';

/** An element symbol that is none. */
export class UnknownElementError extends Error {
  override readonly name = 'UnknownElementError';
  constructor(symbol: string) {
    super(`"${symbol}" is not an element symbol; write it like Pb, Bi or O`);
  }
}

/** A spectrum that holds too little to read. */
export class TooFewCountsError extends Error {
  override readonly name = 'TooFewCountsError';
}

/** Counts that no model of a spectrum can be fitted to. */
export class UnexplainableError extends Error {
  override readonly name = 'UnexplainableError';
}

/** Fewest counts in the fitted range that are worth a reading. */
const MIN_COUNTS = 50;

/**
 * Identifies the elements of a spectrum and the pigments they allow: the record `limner-record/1`.
 * Pure and deterministic: the same spectrum and options give the same record.
 * @throws UnknownElementError, UnknownMountError, TooFewCountsError
 */
export function identify(spectrum: Spectrum, options: IdentifyOptions = {}): LimnerRecord {
  return readingOf(spectrum, options).record;
}

/** The record with the fitted curves behind it, for drawing. */
export function readingOf(spectrum: Spectrum, options: IdentifyOptions = {}): Reading {
  const origins = mountOrigins(options.mount ?? []);
  const barred = (options.without ?? []).map(atomicNumber);
  (options.claim ?? []).forEach(atomicNumber);
  const conditions = conditionsOf(spectrum, options);
  const fixed = {
    beamEv: conditions.beamKev.value * 1000,
    takeOffDeg: conditions.takeOffDeg.value,
    mounted: new Set(origins.keys()),
    instrument: options.instrument ?? null,
  };
  const counted = spectrum.counts.reduce((sum, value) => sum + value, 0);
  if (counted < MIN_COUNTS) {
    throw new TooFewCountsError(
      `${spectrum.source.name || 'the spectrum'} holds ${counted} counts; at least ${MIN_COUNTS} are needed`,
    );
  }
  const { explanation, known, warnings } = orSay(spectrum, () => explainKnowing(spectrum, fixed));
  const parts = partsOf(explanation.frame, explanation.fit);
  const elements = findingsOf(explanation, origins, options.oxygen).map(wordedFinding);
  const materials = materialsInUse(options.pigments);
  const match = matchGrain(elements, { materials: materials.list });
  const pigments = match.pigments.map(wordedStanding);
  const explanations = match.explanations.map(namedExplanation);
  const brightness = brightnessOf(elements, pigments, conditions.beamKev.value, options.image, materials);
  const dating = datingArguments(elements, pigments, materials);
  const record: LimnerRecord = {
    schema: RECORD_SCHEMA_ID,
    source: { name: spectrum.source.name, sha256: spectrum.source.sha256, title: spectrum.title },
    software: {
      name: 'limner',
      version: SOFTWARE_VERSION,
      atomicData: DATA_VERSION,
      pigmentData: PIGMENT_DATA_VERSION,
    },
    ownMaterials: ownSummary(options.pigments),
    header: spectrum.header.map(({ key, unit, value }) => ({ key, unit, value })),
    conditions: {
      beamKev: conditions.beamKev,
      takeOffDeg: conditions.takeOffDeg,
      liveTimeS: spectrum.liveTimeS,
      channels: spectrum.counts.length,
      totalCounts: counted,
      mount: [...(options.mount ?? [])],
    },
    axis: axisSummary(spectrum, explanation, known),
    fit: fitSummary(explanation),
    elements,
    pigments,
    ratios: elementRatios(elements, pigments, {
      materials,
      unknownWindow: explanation.thickWindow && known?.taught.layers.windowUm === undefined,
    }),
    brightness,
    dating: dating.map(wordedDating),
    statedDate:
      options.dated === undefined
        ? null
        : {
            year: options.dated,
            questions: dateQuestions(options.dated, elements, pigments, explanations, dating).map(wordedDateQuestion),
          },
    explanations,
    ledger: ledgerOf(explanation.frame, parts),
    peaks: peakList(explanation.frame, explanation.fit, parts),
    claims: answerClaims(options.claim ?? [], elements).map(wordedClaim),
    without: barred.length > 0 ? withoutAnswer(spectrum, { ...fixed, instrument: known }, explanation, barred) : null,
    warnings: [
      ...spectrum.warnings.map(({ code, text }) => ({ code, text })),
      ...[
        ...conditions.warnings,
        ...warningsOf(explanation, options),
        ...warnings,
        ...imageWarnings(brightness),
        ...ownWarnings(options.pigments),
      ].map(wordedWarning),
    ],
    cautions: cautionsFor(elements),
  };
  return { record, curves: curvesOf(explanation, parts) };
}

function ownSummary(own: IdentifyOptions['pigments']): LimnerRecord['ownMaterials'] {
  return own ? { file: own.file, sha256: own.sha256, entries: own.entries.length, replaced: replacedBy(own) } : null;
}

/** Says in plain words where the counts are too unlike a spectrum for the algebra. */
function orSay<Result>(spectrum: Spectrum, explained: () => Result): Result {
  try {
    return explained();
  } catch (error) {
    if (!(error instanceof NotPositiveDefiniteError)) throw error;
    const name = spectrum.source.name || 'the spectrum';
    throw new UnexplainableError(
      `${name}: the counts do not look like an X-ray spectrum on its axis; check the axis and the beam energy`,
      {
        cause: error,
      },
    );
  }
}

function atomicNumber(symbol: string): number {
  const z = zOf(symbol);
  if (z === undefined) throw new UnknownElementError(symbol);
  return z;
}

function withoutAnswer(
  spectrum: Spectrum,
  fixed: ExplainConditions,
  usual: Explanation,
  barred: readonly number[],
): WithoutAnswer {
  const other = orSay(spectrum, () => explain(spectrum, { ...fixed, without: barred }));
  const symbols = (explanation: Explanation): string[] =>
    explanation.round.hypothesis.members.map((e) => symbolOf(explanation.candidates[e]));
  const before = symbols(usual);
  return wordedWithout({
    symbols: barred.map(symbolOf),
    instead: symbols(other).filter((symbol) => !before.includes(symbol)),
    deltaC: other.round.merit - usual.round.merit,
  });
}

function fitSummary(explanation: Explanation): LimnerRecord['fit'] {
  const { frame, fit, channels, misfit, rounds, converged } = explanation;
  const { lo, hi } = frame.range;
  return {
    ...misfit,
    pValue: pValueOf(misfit),
    regions: regionsOf(frame, fit, channels),
    channels: hi - lo,
    parameters: fit.design.columns.length,
    effectiveParameters: fit.fit.effectiveParameters,
    rounds,
    converged,
    distance: Math.sqrt(fit.fit.decrement),
    dispersion: dispersionOf(frame.counts, fit.expected, lo, hi),
  };
}

function warningsOf({ misfit, converged, thickWindow }: Explanation, { oxygen }: IdentifyOptions): WarningData[] {
  return [
    ...poorFit(misfit.c / misfit.expected),
    ...(converged ? [] : [{ code: 'not-settled' } as const]),
    ...(oxygen === 'oxides' ? [{ code: 'oxygen-by-oxides' } as const] : []),
    ...(thickWindow ? [{ code: 'thick-window' } as const] : []),
  ];
}

const imageWarnings = ({ image, said }: LimnerRecord['brightness']): WarningData[] =>
  image === 'contradicts' ? [{ code: 'image-contradicts', said }] : [];

const ownWarnings = (own: IdentifyOptions['pigments']): WarningData[] => (own ? [{ code: 'own-materials', own }] : []);

function curvesOf({ frame, fit }: Explanation, parts: readonly Part[]): Curves {
  return {
    energyEv: channelEnergies(fit.at.instrument.axis, frame.counts.length),
    counts: frame.counts,
    total: fit.expected,
    background: parts[0].counts,
    layers: parts
      .slice(1)
      .map(({ kind, name, counts }) => ({ kind: kind === 'element' ? 'element' : 'artefact', name, counts })),
  };
}

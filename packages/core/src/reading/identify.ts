import { symbolOf } from '../atomic/elements.ts';
import { DATA_VERSION } from '../atomic/version.ts';
import { pValueOf, regionsOf } from '../fit/quality.ts';
import { instrumentOf } from '../fit/spectrum-fit.ts';
import { alternativeTo } from '../identify/alternative.ts';
import { ledgerOf } from '../identify/ledger.ts';
import type { Explanation } from '../identify/explain.ts';
import type { Excitation } from '../identify/excitation.ts';
import type { ElementFinding } from '../identify/finding.ts';
import { findingsOf } from '../identify/findings.ts';
import { channelEnergies } from '../model/instrument.ts';
import { type HeldAgainst, type HeldAgainstData, heldAgainst, referencedFindings } from '../evidence/held-against.ts';
import { brightnessOf } from '../pigments/brightness.ts';
import { datingArguments } from '../pigments/dating.ts';
import { dateQuestions } from '../pigments/out-of-place.ts';
import { PIGMENT_DATA_VERSION } from '../pigments/knowledge.ts';
import { materialsInUse, replacedBy } from '../pigments/own-materials.ts';
import { elementRatios } from '../pigments/ratios.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { axisSummary } from '../record/axis-summary.ts';
import { answerClaims } from '../record/claims.ts';
import type { IdentifyOptions } from './conditions.ts';
import { cautionsFor } from '../telling/words/cautions.ts';
import { wordedClaim, wordedWithout } from '../telling/words/claim.ts';
import { wordedDateQuestion, wordedDating } from '../telling/words/dates.ts';
import { wordedFinding } from '../telling/words/finding-reason.ts';
import { setAsideText } from '../telling/words/set-aside.ts';
import { namedExplanation, wordedStanding } from '../telling/words/standing-reason.ts';
import { poorFit, type WarningData, wordedFileWarning, wordedWarning } from '../telling/words/warnings.ts';
import { dispersionOf } from '../record/dispersion.ts';
import { peakList } from '../record/peaks.ts';
import { matchSeen } from './grain.ts';
import { explained, type Explained, explainedWith, guarded, prepare, type Prepared } from './prepare.ts';
import type { Curves, Reading } from './reading.ts';
import { RECORD_SCHEMA_ID, type LimnerRecord, type WithoutAnswer } from '../record/record.ts';
import { SOFTWARE_VERSION } from '../record/version.ts';

/**
 * Identifies the elements of a spectrum and the pigments they allow: the record `limner-record/1`.
 * Pure and deterministic: the same spectrum and options give the same record.
 * @param spectrum at least 50 counts; where the beam energy is missing, it is estimated
 * @throws UnknownElementError, UnusableClaimError, UnknownMountError, TooFewCountsError, UnexplainableError
 */
export function identify(spectrum: Spectrum, options: IdentifyOptions = {}): LimnerRecord {
  return guarded(spectrum, () => {
    const prepared = prepare(spectrum, options);
    return recordOf(prepared, explained(prepared), options);
  });
}

/** The record with the fitted curves behind it, counts per channel, for drawing. @throws as `identify` does */
export function readingOf(spectrum: Spectrum, options: IdentifyOptions = {}): Reading {
  return guarded(spectrum, () => read(spectrum, options));
}

function read(spectrum: Spectrum, options: IdentifyOptions): Reading {
  const prepared = prepare(spectrum, options);
  const found = explained(prepared);
  const { explanation } = found;
  return {
    record: recordOf(prepared, found, options),
    curves: curvesOf(explanation),
    alternative: (symbol) => alternativeTo(explanation, symbol),
  };
}

function recordOf(prepared: Prepared, found: Explained, options: IdentifyOptions): LimnerRecord {
  const { spectrum } = prepared;
  const { explanation } = found;
  const elements = findingsOf(explanation, prepared.origins, options.oxygen).map(wordedFinding);
  const grain = grainOf(elements, prepared, found, options);
  return {
    ...headOf(prepared, options),
    axis: axisSummary(spectrum, explanation, found.known),
    fit: fitSummary(explanation),
    elements,
    ...grain,
    ledger: ledgerOf(explanation.frame, explanation.parts),
    peaks: peakList(explanation.frame, explanation.fit, explanation.parts),
    claims: answerClaims(prepared.claimed, elements).map(wordedClaim),
    without: prepared.barred.length > 0 ? withoutAnswer(prepared, found) : null,
    warnings: [
      ...spectrum.warnings.map(wordedFileWarning),
      ...[
        ...prepared.conditions.warnings,
        ...warningsOf(explanation, options),
        ...found.warnings,
        ...imageWarnings(grain.brightness),
        ...ownWarnings(options.pigments),
      ].map(wordedWarning),
    ],
    cautions: cautionsFor(elements, options.seen),
  };
}

type Head = Pick<LimnerRecord, 'schema' | 'source' | 'software' | 'ownMaterials' | 'header' | 'conditions'>;

/** What was read, with what, under which conditions. */
function headOf({ spectrum, conditions, totalCounts }: Prepared, { pigments, mount }: IdentifyOptions): Head {
  return {
    schema: RECORD_SCHEMA_ID,
    source: { name: spectrum.source.name, sha256: spectrum.source.sha256, title: spectrum.title },
    software: {
      name: 'limner',
      version: SOFTWARE_VERSION,
      atomicData: DATA_VERSION,
      pigmentData: PIGMENT_DATA_VERSION,
    },
    ownMaterials: ownSummary(pigments),
    header: spectrum.header.map(({ key, unit, value }) => ({ key, unit, value })),
    conditions: {
      beamKev: conditions.beamKev,
      takeOffDeg: conditions.takeOffDeg,
      liveTimeS: spectrum.liveTimeS,
      channels: spectrum.counts.length,
      totalCounts,
      mount: [...(mount ?? [])],
    },
  };
}

type Grain = Pick<
  LimnerRecord,
  'pigments' | 'ratios' | 'brightness' | 'dating' | 'statedDate' | 'explanations' | 'seen' | 'references'
>;

/** What the elements allow the grain to be. */
function grainOf(
  standardless: readonly ElementFinding[],
  { conditions }: Prepared,
  { explanation, known }: Explained,
  { pigments: own, image, dated, seen: looked, references = [] }: IdentifyOptions,
): Grain {
  const materials = materialsInUse(own);
  const taken = { beamKev: conditions.beamKev.value, takeOffDeg: conditions.takeOffDeg.value };
  const held = references.length === 0 ? null : heldAgainst(references, standardless, taken);
  const elements = held === null ? standardless : referencedFindings(standardless, held);
  const unknownWindow = explanation.thickWindow && known?.taught.layers.windowUm === undefined;
  const { match, seen } = matchSeen(elements, { materials: materials.list, unknownWindow }, looked);
  const pigments = match.pigments.map(wordedStanding);
  const explanations = match.explanations.map(namedExplanation);
  const dating = datingArguments(elements, match.shares, materials);
  return {
    pigments,
    ratios: elementRatios(elements, pigments, { materials, unknownWindow }),
    brightness: brightnessOf(elements, pigments, conditions.beamKev.value, image, materials),
    dating: dating.map(wordedDating),
    statedDate:
      dated === undefined
        ? null
        : {
            year: dated,
            questions: dateQuestions(dated, elements, explanations, dating, materials).map(wordedDateQuestion),
          },
    explanations,
    ...(seen && { seen }),
    ...(held && { references: wordedReferences(held) }),
  };
}

const wordedReferences = ({ setAside, ...held }: HeldAgainstData): HeldAgainst => ({
  ...held,
  setAside: setAside.map((one) => ({ name: one.name, label: one.label, reason: setAsideText(one) })),
});

function ownSummary(own: IdentifyOptions['pigments']): LimnerRecord['ownMaterials'] {
  return own ? { file: own.file, sha256: own.sha256, entries: own.entries.length, replaced: replacedBy(own) } : null;
}

function withoutAnswer(prepared: Prepared, { explanation: usual, known }: Explained): WithoutAnswer {
  const other = explainedWith(prepared, known, { without: prepared.barred });
  const symbols = (explanation: Explanation): string[] =>
    explanation.round.hypothesis.members.map((e) => symbolOf(explanation.candidates[e]));
  const before = symbols(usual);
  return wordedWithout({
    symbols: prepared.barred.map(symbolOf),
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
    parameters: fit.design.layout.columns.length,
    effectiveParameters: fit.fit.effectiveParameters,
    rounds,
    converged,
    distance: Math.sqrt(fit.fit.decrement),
    dispersion: dispersionOf(frame.counts, fit.expected, lo, hi),
  };
}

const EXCITATION_WARNINGS: Readonly<Record<Excitation, readonly WarningData[]>> = {
  electrons: [],
  transmission: [{ code: 'thin-foil' }],
  photons: [{ code: 'photon-excited' }],
};

function warningsOf(explanation: Explanation, { oxygen }: IdentifyOptions): WarningData[] {
  const { misfit, converged, unfinished, thickWindow, excitation } = explanation;
  // A model of electrons can't fit what X-rays excite: nothing that it lacks says more.
  if (excitation === 'photons') return [...EXCITATION_WARNINGS.photons];
  return [
    ...axisWarnings(explanation),
    ...EXCITATION_WARNINGS[excitation],
    ...poorFit(misfit.c / misfit.expected),
    ...(unfinished ? [{ code: 'unfinished' } as const] : converged ? [] : [{ code: 'not-settled' } as const]),
    ...(oxygen === 'oxides' ? [{ code: 'oxygen-by-oxides' } as const] : []),
    ...(thickWindow ? [{ code: 'thick-window' } as const] : []),
  ];
}

function axisWarnings({ axisStanding, fit }: Explanation): WarningData[] {
  if (axisStanding === 'stated') return [];
  return [{ code: axisStanding === 'corrected' ? 'axis-corrected' : 'axis-wrong', ...instrumentOf(fit).axis }];
}

const imageWarnings = ({ image, said }: LimnerRecord['brightness']): WarningData[] =>
  image === 'contradicts' ? [{ code: 'image-contradicts', said }] : [];

const ownWarnings = (own: IdentifyOptions['pigments']): WarningData[] => (own ? [{ code: 'own-materials', own }] : []);

function curvesOf(explanation: Explanation): Curves {
  const { frame, fit, parts } = explanation;
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

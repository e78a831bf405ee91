import { symbolOf, zOf } from '../atomic/elements.ts';
import { grainReach, type GrainReach } from '../emission/body/range.ts';
import { instrumentOf } from '../fit/spectrum-fit.ts';
import { CANDIDATE_ELEMENTS } from '../identify/candidates.ts';
import { findingsOf } from '../identify/findings.ts';
import { phaseQuestions } from '../evidence/phase-plan.ts';
import { matchGrain } from '../pigments/match.ts';
import { planFor, type Plan, type PlanConditions, remeasured } from '../plan/plan.ts';
import { type Question, questionsOf, questionWithout } from '../plan/question.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { MeasurementPlan } from '../record/measurement-plan.ts';
import type { PlannedSpectrum } from '../record/planned-spectrum.ts';
import { type WarningData, wordedFileWarning, wordedWarning } from '../telling/words/warnings.ts';
import type { PrepareOptions } from './conditions.ts';
import { explained, type Explained, explainedWith, guarded, prepare, type Prepared } from './prepare.ts';

/** A plan does not ask for dates, pigments, the image or the amount of oxygen: it takes no options about them. */
export interface PlanOptions extends PrepareOptions {
  /** Diameter of the grain, um, and its density, g/cm3: does the beam stay inside? */
  readonly grain?: { readonly diameterUm: number; readonly densityGPerCm3: number };
}

/**
 * Plans the next measurement of what a spectrum shows: for each element that is open or claimed, the cheapest that settles it, and
 * the one that tells the barred elements from what would take their place.
 * @throws as identify does
 */
export function planMeasurement(spectrum: Spectrum, options: PlanOptions = {}): MeasurementPlan {
  return guarded(spectrum, () => planned(spectrum, options));
}

/** What each measurement that a plan proposes would give under both explanations. @throws as identify does */
export function plannedSpectra(spectrum: Spectrum, options: PlanOptions = {}): PlannedSpectrum[] {
  return guarded(spectrum, () => {
    const { plans, under } = plansOf(spectrum, options);
    return plans.flatMap(({ question, proposal }) => {
      const both = proposal && remeasured(question, proposal, under);
      return proposal && both ? [{ question, proposal, axis: under.instrument.axis, ...both }] : [];
    });
  });
}

/** The plan for each question of a spectrum, and what it rests on. */
function plansOf(spectrum: Spectrum, options: PlanOptions) {
  const prepared = prepare(spectrum, options);
  const found = explained(prepared);
  const { explanation } = found;
  const findings = findingsOf(explanation, prepared.origins);
  const under: PlanConditions = {
    instrument: instrumentOf(explanation.fit),
    channels: spectrum.counts.length,
    takeOffDeg: prepared.conditions.takeOffDeg.value,
  };
  const barred = barredQuestion(prepared, found);
  const questions = [...questionsOf(explanation, findings, prepared.claimed), ...(barred ? [barred] : [])];
  return { prepared, found, findings, barred, under, plans: questions.map((question) => planFor(question, under)) };
}

function planned(spectrum: Spectrum, options: PlanOptions): MeasurementPlan {
  const { prepared, found, findings, barred, plans } = plansOf(spectrum, options);
  const { beamKev, warnings } = prepared.conditions;
  return {
    source: spectrum.source.name,
    beamKev,
    present: findings.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol),
    questions: plans.map((plan) => ({ ...plan, reach: reachIn(options.grain, plan) })),
    phases: phaseQuestions(matchGrain(findings, { unknownWindow: found.explanation.thickWindow }).explanations),
    warnings: [
      ...spectrum.warnings.map(wordedFileWarning),
      ...[...warnings, ...found.warnings, ...notPlanned(prepared, barred !== null)].map(wordedWarning),
    ].map(({ text }) => text),
  };
}

function barredQuestion(prepared: Prepared, { explanation, known }: Explained): Question | null {
  const { barred } = prepared;
  return barred.length > 0
    ? questionWithout(explanation, explainedWith(prepared, known, { without: barred }), barred)
    : null;
}

/** Whether the beam proposed stays in the grain. */
function reachIn(grain: PlanOptions['grain'], { question, proposal }: Plan): GrainReach | null {
  if (!grain || !proposal) return null;
  const material = { composition: question.withIt, densityGPerCm3: grain.densityGPerCm3 };
  return grainReach(material, grain.diameterUm, proposal.beamKev * 1000);
}

/** Claims that no measurement of this kind is planned for, and bars that change nothing. */
function notPlanned({ claimed, barred }: Prepared, changed: boolean): WarningData[] {
  const never = claimed.map(({ symbol }) => symbol).filter((symbol) => !CANDIDATE_ELEMENTS.includes(zOf(symbol)!));
  return [
    ...never.map((symbol) => ({ code: 'not-looked-for', symbol }) as const),
    ...(barred.length > 0 && !changed ? [{ code: 'exclusion-idle', symbols: barred.map(symbolOf) } as const] : []),
  ];
}

import { grainReach, type GrainReach } from '../emission/body/range.ts';
import { instrumentOf } from '../fit/spectrum-fit.ts';
import { CANDIDATE_ELEMENTS } from '../identify/candidates.ts';
import { findingsOf } from '../identify/findings.ts';
import { zOf } from '../atomic/elements.ts';
import { planFor, type Plan } from '../plan/plan.ts';
import { questionsOf } from '../plan/question.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { MeasurementPlan } from '../record/measurement-plan.ts';
import type { PrepareOptions } from './conditions.ts';
import { explained, prepare, type Prepared } from './prepare.ts';

/** A plan does not ask for dates, pigments, the image or the amount of oxygen: it takes no options about them. */
export interface PlanOptions extends PrepareOptions {
  /** Diameter of the grain, um, and its density, g/cm3: does the beam stay inside? */
  readonly grain?: { readonly diameterUm: number; readonly densityGPerCm3: number };
}

/** An element that is said to be there and barred at the same time. */
export class ClaimedAndBarredError extends Error {
  override readonly name = 'ClaimedAndBarredError';
  constructor(symbol: string) {
    super(`${symbol} is both claimed and barred: a plan can take it one way only`);
  }
}

/**
 * Plans the next measurement of what a spectrum shows: for each element that is open or claimed, the cheapest that settles it.
 * Barred elements are taken not to be there: the plan is that of the explanation without them.
 * @throws as identify does; ClaimedAndBarredError
 */
export function planMeasurement(spectrum: Spectrum, options: PlanOptions = {}): MeasurementPlan {
  const prepared = prepare(spectrum, options);
  const twice = prepared.claimed.find((symbol) => prepared.barred.includes(zOf(symbol)!));
  if (twice !== undefined) throw new ClaimedAndBarredError(twice);
  const { explanation, warnings } = explained(prepared, prepared.barred);
  const findings = findingsOf(explanation, prepared.origins);
  const { beamKev, takeOffDeg, warnings: doubts } = prepared.conditions;
  const under = {
    instrument: instrumentOf(explanation.fit),
    channels: spectrum.counts.length,
    takeOffDeg: takeOffDeg.value,
  };
  const plans = questionsOf(explanation, findings, prepared.claimed).map((question) => planFor(question, under));
  return {
    source: spectrum.source.name,
    beamKev,
    present: findings.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol),
    questions: plans.map((plan) => ({ ...plan, reach: reachIn(options.grain, plan) })),
    warnings: [...[...spectrum.warnings, ...doubts, ...warnings].map(({ text }) => text), ...notAsked(prepared)],
  };
}

/** Whether the beam proposed stays in the grain. */
function reachIn(grain: PlanOptions['grain'], { question, proposal }: Plan): GrainReach | null {
  if (!grain || !proposal) return null;
  const material = { composition: question.withIt, densityGPerCm3: grain.densityGPerCm3 };
  return grainReach(material, grain.diameterUm, proposal.beamKev * 1000);
}

/** Claims that no measurement of this kind is planned for. */
function notAsked({ claimed }: Prepared): string[] {
  return claimed
    .filter((symbol) => !CANDIDATE_ELEMENTS.includes(zOf(symbol)!))
    .map((symbol) => `${symbol} is not among the elements looked for: no measurement is planned for it.`);
}

import { grainReach } from '../emission/body/range.ts';
import { instrumentOf } from '../fit/spectrum-fit.ts';
import { explain } from '../identify/explain.ts';
import { findingsOf } from '../identify/findings.ts';
import { mountOrigins } from '../identify/mount.ts';
import { planFor } from '../plan/plan.ts';
import { questionsOf } from '../plan/question.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { MeasurementPlan, PlannedQuestion } from '../record/measurement-plan.ts';
import { wordedWarning } from '../telling/words/warnings.ts';
import { conditionsOf, type IdentifyOptions } from './conditions.ts';

export interface PlanOptions extends IdentifyOptions {
  /** Diameter of the grain, um, and its density, g/cm3: does the beam stay inside? */
  readonly grain?: { readonly diameterUm: number; readonly densityGPerCm3: number };
}

/** Plans the next measurement of what a spectrum shows. @throws as identify does */
export function planMeasurement(spectrum: Spectrum, options: PlanOptions = {}): MeasurementPlan {
  const conditions = conditionsOf(spectrum, options);
  const origins = mountOrigins(options.mount ?? []);
  const takeOffDeg = conditions.takeOffDeg.value;
  const explanation = explain(spectrum, {
    beamEv: conditions.beamKev.value * 1000,
    takeOffDeg,
    mounted: new Set(origins.keys()),
  });
  const findings = findingsOf(explanation, origins);
  const instrument = instrumentOf(explanation.fit);
  const planned = questionsOf(explanation, findings).map((question): PlannedQuestion => {
    const plan = planFor(question, { instrument, channels: spectrum.counts.length, takeOffDeg });
    const { grain } = options;
    const reach =
      grain && plan.proposal
        ? grainReach(
            { composition: question.withIt, densityGPerCm3: grain.densityGPerCm3 },
            grain.diameterUm,
            plan.proposal.beamKev * 1000,
          )
        : null;
    return { ...plan, reach };
  });
  return {
    source: spectrum.source.name,
    beamKev: conditions.beamKev,
    present: findings.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol),
    questions: planned,
    warnings: conditions.warnings.map((warning) => wordedWarning(warning).text),
  };
}

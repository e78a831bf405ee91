import { elementName } from '../atomic/elements.ts';
import { BEAMS_KEV, CONFIDENCE, COUNTS, type Proposal } from '../plan/plan.ts';
import { printable, wrap } from './layout.ts';
import { capital, fixed, keV, listed, percent, significant } from './numerals.ts';
import type { MeasurementPlan, PlannedQuestion } from '../record/measurement-plan.ts';

/** A plan as a person reads it. */
export function planText(plan: MeasurementPlan): string {
  const { source, beamKev, present, questions, warnings } = plan;
  const found = present.length > 0 ? `${capital(listed(present))}: required by the counts. ` : '';
  const lines = [
    ...wrap(`${printable(source)}, beam ${significant(beamKev.value, 3)} keV. ${found}${askedText(questions)}`),
    ...warnings.flatMap((text) => ['', ...wrap(text)]),
    ...questions.flatMap((question) => ['', ...questionLines(question)]),
    '',
    ...wrap(CAUTION),
  ];
  return `${lines.join('\n')}\n`;
}

function askedText(questions: readonly PlannedQuestion[]): string {
  const about = (why: string, heading: string): string[] => {
    const names = questions
      .filter(({ question }) => question.why === why)
      .map(({ question }) => elementName(question.z));
    return names.length > 0 ? [`${heading}: ${listed(names)}.`] : [];
  };
  const parts = [...about('open', 'Open or not yet sure'), ...about('claimed', 'Claimed')];
  if (parts.length > 0) return parts.join(' ');
  return questions.length > 0 ? 'Nothing is open.' : 'Nothing is open; no further measurement is proposed.';
}

const CAUTION =
  'Every measurement takes something from the sample: the beam heats, charges and can alter it (carbonates, hydrates, sulfides and organic matter first). ' +
  'Repeat on the same grain only what is worth it, at the lowest current and counts that decide; licensed operators and local rules come first. ' +
  'The figures are expectations of the forward model for a thick, flat specimen.';

function questionLines({ question, proposal, best, reach }: PlannedQuestion): string[] {
  const name = elementName(question.z);
  const rival = question.instead.length > 0 ? `${listed([...question.instead])} in its place` : 'nothing in its place';
  const also = question.also.length > 0 ? ` with ${listed([...question.also])}` : '';
  const share = question.why === 'claimed' ? `, ${percent(question.withIt[question.z])} by mass` : '';
  const heading = wrap(`${capital(name)} (${question.symbol})${also}${share}, or ${rival}?`);
  if (!proposal) return [...heading, ...wrap(unsettled(best), 2)];
  const lines = [
    `Measure at ${proposal.beamKev} keV with ${fixed(proposal.counts, 0)} counts: settles it with ${percent(proposal.confidence)} confidence ` +
      `(expected difference ${significant(proposal.expectedChiSquare, 2)} in chi-square). ${told(proposal, question.symbol)}`,
  ];
  if (reach) {
    lines.push(
      reach.inside
        ? `The beam stays in the grain (electrons reach ${significant(reach.electronRangeUm, 2)} um).`
        : `The beam leaves the grain (electrons reach ${significant(reach.electronRangeUm, 2)} um; it stays inside up to ${significant(reach.highestBeamKev, 2)} keV): ` +
            'what lies around it will show.',
    );
  }
  return [...heading, ...lines.flatMap((line) => wrap(line, 2))];
}

function told({ lines }: Proposal, symbol: string): string {
  if (lines.length === 0) return 'No single line decides; the whole shape does.';
  const each = lines
    .slice(0, 2)
    .map(
      ({ symbol: of, line, energyEv, expectedIfTrue, expectedIfNot }) =>
        `${of} ${line} at ${keV(energyEv)} (${fixed(expectedIfTrue, 0)} counts around it with ${symbol}, ${fixed(expectedIfNot, 0)} without)`,
    );
  return `Look at ${listed(each)}.`;
}

function unsettled(best: Proposal | null): string {
  const most = COUNTS[COUNTS.length - 1];
  const nearest =
    best && best.expectedChiSquare > 0
      ? ` The best would be ${best.beamKev} keV (expected difference ${significant(best.expectedChiSquare, 2)} in chi-square).`
      : ' No line that tells the two apart is excited at any of them.';
  return (
    `Energy-dispersive spectra do not settle it with ${percent(CONFIDENCE)} confidence at ${BEAMS_KEV[0]} to ${BEAMS_KEV[BEAMS_KEV.length - 1]} keV ` +
    `and up to ${fixed(most, 0)} counts.${nearest} Wavelength-dispersive spectrometry separates lines some 10 eV apart; for compounds, ` +
    'Raman or infrared microscopy or X-ray diffraction on the same grain may say more.'
  );
}

import { elementName } from '../atomic/elements.ts';
import { BEAMS_KEV, CONFIDENCE, COUNTS, type Proposal } from '../plan/plan.ts';
import type { TellingLine } from '../plan/separation.ts';
import type { MeasurementPlan, PlannedQuestion } from '../record/measurement-plan.ts';
import { MOST_TELLING } from './cutoffs.ts';
import { lineOf } from './names.ts';
import { capital, fixed, keV, listed, percent, significant, trimmed } from './numerals.ts';
import { item, list, type Node, paragraph, section, type Tree } from './tree.ts';
import { chiSquare } from './words/finding-reason.ts';

/** A plan as a person reads it. */
export function planTree(plan: MeasurementPlan): Tree {
  const { source, beamKev, present, questions, warnings } = plan;
  const nodes = [
    paragraph('answer', planSummary(present, questions), 'brief', 'lead'),
    section('warnings', 'Warnings', [
      list(
        'warning-list',
        warnings.map((text, i) => item(`warning-${i + 1}`, text)),
      ),
    ]),
    ...questions.map(questionSection),
    questions.some(({ proposal }) => proposal === null) ? paragraph('beyond', BEYOND) : null,
    section('cautions', 'Cautions', [
      list(
        'caution-list',
        CAUTIONS.map((text, i) => item(`caution-${i + 1}`, text)),
      ),
    ]),
  ];
  return {
    title: `${source}: the next measurement (this one: ${trimmed(beamKev.value, 3)}\u00a0keV)`,
    nodes: nodes.filter((node) => node !== null),
  };
}

function planSummary(present: readonly string[], questions: readonly PlannedQuestion[]): string {
  const found = present.length > 0 ? `${capital(listed(present))}: required by the counts. ` : '';
  if (questions.length === 0) return `${found}Nothing is open; no further measurement is proposed.`;
  return `${found}Open or not yet sure: ${listed(questions.map(({ question }) => elementName(question.z)))}.`;
}

const CAUTIONS = [
  'Every measurement takes something from the sample: the beam heats, charges and can alter it (carbonates, hydrates, sulfides and organic matter first).',
  'Repeat on the same grain only what is worth it, at the lowest current and counts that decide; licensed operators and local rules come first.',
  'The figures are expectations of the forward model for a thick, flat specimen.',
];

/** What else can be tried where no such measurement settles it. */
const BEYOND =
  'Where no energy-dispersive measurement settles it: wavelength-dispersive spectrometry separates lines some 10\u00a0eV apart; for ' +
  'compounds, Raman or infrared microscopy or X-ray diffraction on the same grain may say more.';

function questionSection({ question, proposal, best, reach }: PlannedQuestion): Node | null {
  const { symbol, z, instead } = question;
  const rival = instead.length > 0 ? listed([...instead]) : 'nothing';
  const nodes = proposal
    ? [
        paragraph(`measure-${symbol}`, proposalText(proposal)),
        paragraph(`look-${symbol}`, lookAt(proposal.lines, symbol)),
        reach ? paragraph(`reach-${symbol}`, reachText(reach)) : null,
      ]
    : [paragraph(`unsettled-${symbol}`, unsettled(best))];
  return section(`question-${symbol}`, `${capital(elementName(z))} (${symbol}), or ${rival} in its place?`, nodes);
}

function proposalText({ beamKev, counts, confidence, expectedChiSquare }: Proposal): string {
  return (
    `Measure at ${beamKev}\u00a0keV with ${fixed(counts, 0)} counts: that settles it with ${percent(confidence)} confidence ` +
    `(expected difference of chi-square ${chiSquare(expectedChiSquare)}).`
  );
}

function lookAt(lines: readonly TellingLine[], symbol: string): string {
  if (lines.length === 0) return 'No single line decides; the whole shape does.';
  const each = lines
    .slice(0, MOST_TELLING)
    .map(
      ({ symbol: of, line, energyEv, expectedIfTrue, expectedIfNot }) =>
        `${lineOf(of, line)} at ${keV(energyEv)} (${fixed(expectedIfTrue, 0)} counts around it with ${symbol}, ${fixed(expectedIfNot, 0)} without)`,
    );
  return `Look at ${listed(each)}.`;
}

function reachText({ inside, electronRangeUm, highestBeamKev }: NonNullable<PlannedQuestion['reach']>): string {
  const range = `electrons reach ${significant(electronRangeUm, 2)}\u00a0um`;
  return inside
    ? `The beam stays in the grain (${range}).`
    : `The beam leaves the grain (${range}; it stays inside up to ${significant(highestBeamKev, 2)}\u00a0keV): what lies around it will show.`;
}

function unsettled(best: Proposal | null): string {
  const nearest =
    best && best.expectedChiSquare > 0
      ? ` The best would be ${best.beamKev}\u00a0keV (expected difference of chi-square ${chiSquare(best.expectedChiSquare)}).`
      : ' No line that tells the two apart is excited at any of them.';
  const most = COUNTS.at(-1) ?? 0;
  return (
    `No measurement at ${BEAMS_KEV[0]} to ${BEAMS_KEV.at(-1)}\u00a0keV with up to ${fixed(most, 0)} counts settles it with ` +
    `${percent(CONFIDENCE)} confidence.${nearest}`
  );
}

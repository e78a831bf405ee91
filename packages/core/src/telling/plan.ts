import { atomicNumber, elementName } from '../atomic/elements.ts';
import { BEAMS_KEV, CONFIDENCE, COUNTS, type Proposal } from '../plan/plan.ts';
import type { Question } from '../plan/question.ts';
import type { TellingLine } from '../plan/separation.ts';
import type { MeasurementPlan, PlannedQuestion } from '../record/measurement-plan.ts';
import { MOST_TELLING } from './terms/cutoffs.ts';
import { insteadText, lineOf } from './terms/names.ts';
import { capital, fixed, keV, listed, percent, probabilityText, significant, trimmed } from './terms/numerals.ts';
import { item, list, type Node, paragraph, section, type Tree } from './sections/tree.ts';
import { remainingText, steps } from './sections/steps.ts';
import { chiSquare } from './words/finding-reason.ts';

/** A plan as a person reads it. */
export function planTree(plan: MeasurementPlan): Tree {
  const { source, beamKev, present, questions, phases, warnings } = plan;
  const nodes = [
    paragraph('answer', planSummary(present, questions, phases), 'brief', 'lead'),
    section('warnings', 'Warnings', [
      list(
        'warning-list',
        warnings.map((text, i) => item(`warning-${i + 1}`, text)),
      ),
    ]),
    steps(questions, phases),
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

function planSummary(
  present: readonly string[],
  questions: readonly PlannedQuestion[],
  phases: MeasurementPlan['phases'],
): string {
  const found = present.length > 0 ? `The counts require ${listed(present.map(nameOf))}. ` : '';
  const left = phases.map(({ remaining }) => capital(remainingText(remaining)));
  const between = left.length > 0 ? ` Elements cannot decide: ${left.join('; ')}.` : '';
  return `${found}${elementSummary(questions, left.length > 0)}${between}`;
}

function elementSummary(questions: readonly PlannedQuestion[], more: boolean): string {
  if (questions.length === 0)
    return more ? 'No element is open.' : 'Nothing is open; no further measurement is proposed.';
  const asked = Object.entries(ASKED).flatMap(([why, heading]) => {
    const names = questions.filter(({ question }) => question.why === why).flatMap(({ question }) => namesIn(question));
    return names.length > 0 ? [`${heading}: ${listed(names)}.`] : [];
  });
  if (!questions.some(({ question }) => question.why !== 'barred')) asked.unshift('Nothing is open.');
  return asked.join(' ');
}

const ASKED = { open: 'Open or not yet sure', claimed: 'Claimed', barred: 'Excluded' } as const;

const nameOf = (symbol: string): string => elementName(atomicNumber(symbol));
const nameAndSymbol = (symbol: string): string => `${nameOf(symbol)} (${symbol})`;

const namesIn = ({ symbol, also }: Question): string[] => [symbol, ...also].map(nameOf);

const CAUTIONS = [
  'Every measurement takes something from the sample: the beam heats and charges it, and can alter it (carbonates, hydrates, sulfides and organic matter first).',
  'Measure the same grain again only if it is worth it, with the lowest current and the fewest counts that settle the question. Licensed operators and local rules come first.',
  'These figures are expectations of the forward model for a thick, flat specimen.',
];

/** What else can be tried where no such measurement settles it. */
const BEYOND =
  'Where no energy-dispersive measurement settles it, wavelength-dispersive spectrometry separates lines some 10\u00a0eV apart. For ' +
  'compounds, Raman or infrared microscopy or X-ray diffraction on the same grain may say more.';

function questionSection({ question, proposal, best, reach }: PlannedQuestion): Node | null {
  const { symbol } = question;
  const id = idOf(question);
  const nodes = proposal
    ? [
        paragraph(`measure-${id}`, proposalText(proposal)),
        paragraph(`look-${id}`, lookAt(proposal.lines, symbol)),
        reach ? paragraph(`reach-${id}`, reachText(reach)) : null,
      ]
    : [paragraph(`unsettled-${id}`, unsettled(best))];
  return section(`question-${id}`, headingOf(question), nodes);
}

/** An excluded element may be open or claimed besides. */
const idOf = ({ symbol, why }: Question): string => (why === 'barred' ? `${symbol}-excluded` : symbol);

function headingOf({ symbol, z, also, why, instead, withIt }: Question): string {
  const named = listed([symbol, ...also].map(nameAndSymbol));
  const share = why === 'claimed' ? `, ${percent(withIt[z])} by mass` : '';
  const rival = instead.length > 0 ? insteadText(instead.map(nameAndSymbol)) : 'nothing';
  return `${capital(named)}${share}, or ${rival} in ${also.length > 0 ? 'their' : 'its'} place?`;
}

function proposalText({ beamKev, counts, confidence, expectedChiSquare }: Proposal): string {
  return (
    `Measure at ${beamKev}\u00a0keV with ${fixed(counts, 0)} counts: that settles it with ${probabilityText(confidence)} confidence ` +
    `(expected difference of chi-square ${chiSquare(expectedChiSquare)}).`
  );
}

function lookAt(lines: readonly TellingLine[], symbol: string): string {
  if (lines.length === 0) return 'No single line settles it; the whole shape does.';
  const each = lines
    .slice(0, MOST_TELLING)
    .map(
      ({ symbol: of, line, energyEv, expectedIfTrue, expectedIfNot }) =>
        `${lineOf(of, line)} at ${keV(energyEv)} (${fixed(expectedIfTrue, 0)} counts around it with ${symbol}, ${fixed(expectedIfNot, 0)} without)`,
    );
  return `Look at ${listed(each)}.`;
}

function reachText({ inside, electronRangeUm, highestBeamKev }: NonNullable<PlannedQuestion['reach']>): string {
  const range = `electrons reach ${significant(electronRangeUm, 2)}\u00a0µm`;
  return inside
    ? `The beam stays in the grain (${range}).`
    : `The beam leaves the grain (${range}; it stays inside up to ${significant(highestBeamKev, 2)}\u00a0keV): what lies around it will show.`;
}

function unsettled(best: Proposal | null): string {
  const nearest =
    best && best.expectedChiSquare > 0
      ? ` The best would be ${best.beamKev}\u00a0keV (expected difference of chi-square ${chiSquare(best.expectedChiSquare)}).`
      : ' No line that tells the two apart is excited at any of these energies.';
  const most = COUNTS.at(-1) ?? 0;
  return (
    `No measurement at ${BEAMS_KEV[0]} to ${BEAMS_KEV.at(-1)}\u00a0keV with up to ${fixed(most, 0)} counts settles it with ` +
    `${percent(CONFIDENCE)} confidence.${nearest}`
  );
}

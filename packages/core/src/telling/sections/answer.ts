import { elementName } from '../../atomic/elements.ts';
import type { ElementFinding, Verdict } from '../../identify/finding.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { LEAST_SCORE, MEDIUM, MOST_ALIKE, MOST_BARE_PEAKS } from '../terms/cutoffs.ts';
import { elementsNamed, rivalName, within } from '../terms/names.ts';
import { capital, counted, fixed, keV, listed, listedUpTo } from '../terms/numerals.ts';
import { type Node, paragraph } from './tree.ts';

/** Findings with one verdict, most counts first. */
export function findingsWith({ elements }: Pick<LimnerRecord, 'elements'>, verdict: Verdict): ElementFinding[] {
  return elements
    .filter((finding) => finding.verdict === verdict)
    .sort((a, b) => b.counts.value - a.counts.value || a.z - b.z);
}

/** Peaks that nothing in the explanation carries. */
export const barePeaks = ({ peaks }: Pick<LimnerRecord, 'peaks'>): LimnerRecord['peaks'] =>
  peaks.filter(({ explainedBy }) => explainedBy.length === 0);

export const answer = (record: LimnerRecord): Node | null => paragraph('answer', summary(record), 'brief', 'lead');

/** The reading in a few sentences: what the counts require, what the mounting can bring, what is open, what nothing explains, what fits. */
export function summary(record: LimnerRecord): string {
  return [required, surroundings, openQuestions, unexplained, bestFit]
    .map((part) => part(record))
    .filter(Boolean)
    .join(' ');
}

function required(record: LimnerRecord): string {
  const findings = findingsWith(record, 'present').filter(({ origin }) => origin === 'specimen');
  if (findings.length === 0) return 'The counts require no element that only the specimen can bring.';
  return `${capital(elementsNamed(findings))}: required by the counts.`;
}

function surroundings(record: LimnerRecord): string {
  const present = findingsWith(record, 'present');
  const told = (origin: ElementFinding['origin'], rest: string): string => {
    const findings = present.filter((finding) => finding.origin === origin);
    const are = findings.length === 1 ? 'is' : 'are';
    return findings.length > 0 ? `${capital(elementsNamed(findings))} ${are} there too, ${rest}.` : '';
  };
  return [told('either', 'from the specimen or the mounting'), told('setting', 'most likely from the mounting')]
    .filter(Boolean)
    .join(' ');
}

function openQuestions(record: LimnerRecord): string {
  const open = findingsWith(record, 'open');
  return open.length === 0 ? 'No element is open.' : `Open: ${listed(open.map(question))}.`;
}

/** 'antimony (or tin)'; without a rival, the element alone. */
function question({ z, rivals: [rival] }: ElementFinding): string {
  return rival ? `${elementName(z)} (or ${rivalName(rival)})` : elementName(z);
}

function unexplained(record: LimnerRecord): string {
  const bare = barePeaks(record);
  if (bare.length === 0) return '';
  const places = listedUpTo(
    MOST_BARE_PEAKS,
    bare.map(({ energyEv }) => keV(energyEv)),
  );
  return `Nothing explains the ${bare.length === 1 ? 'peak' : 'peaks'} at ${places}.`;
}

/** The allowed material with the best score, if that is a fit worth naming, and the names of those the same elements allow. */
export function bestFitting({
  pigments,
  elements,
}: LimnerRecord): { readonly name: string; readonly alike: readonly string[] } | null {
  const best = pigments[0];
  if (!best || best.standing !== 'allowed' || best.score < LEAST_SCORE) return null;
  if (!elements.some(({ verdict, symbol }) => verdict === 'present' && !MEDIUM.has(symbol))) return null;
  const names = new Map(pigments.map(({ id, name }) => [id, name]));
  return { name: best.name, alike: best.lookalikes.flatMap((id) => names.get(id) ?? []) };
}

/** The whole grain where it takes more than one material, else the best one. */
function bestFit(record: LimnerRecord): string {
  const best = bestFitting(record);
  if (best === null) return '';
  const [grain] = record.explanations;
  if (grain !== undefined && grain.parts.length > 1)
    return `Best fit: ${within(grain.name)}, or what elements cannot tell from them.`;
  return `Best fit: ${within(best.name)}${orAlike(best.alike)}.`;
}

/** Few look-alikes are named, many are counted: what tells them apart comes later. */
function orAlike(alike: readonly string[]): string {
  if (alike.length === 0) return '';
  if (alike.length <= MOST_ALIKE.brief) return `, which elements cannot tell from ${listed(alike.map(within))}`;
  return `, or one of ${fixed(alike.length, 0)} that elements cannot tell from it`;
}

/** 'chalk, gypsum and 3 more' */
export const alikeText = (names: readonly string[], length: keyof typeof MOST_ALIKE): string =>
  listedUpTo(MOST_ALIKE[length], names.map(within));

/** '1 element', '3 elements' */
export const elementCount = (findings: readonly unknown[]): string => counted(findings.length, 'element');

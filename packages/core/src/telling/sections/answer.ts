import { elementName, zOf } from '../../atomic/elements.ts';
import type { ElementFinding, Verdict } from '../../identify/finding.ts';
import { mountOrigins, originOf } from '../../identify/mount.ts';
import type { GrainExplanation } from '../../pigments/standing.ts';
import type { LimnerRecord } from '../../record/record.ts';
import {
  CLEAR,
  LEAST_SCORE,
  MEDIUM,
  MOST_ALIKE,
  MOST_BARE_PEAKS,
  MOST_GRAINS,
  MOST_OVER,
  WORTH_NAMING,
} from '../terms/cutoffs.ts';
import { elementsNamed, namedRival, rivalInWords, shortName, within } from '../terms/names.ts';
import { capital, counted, fixed, keV, listed, listedUpTo } from '../terms/numerals.ts';
import { type Node, paragraph } from './tree.ts';

/** Findings with one verdict, most counts first. */
export function findingsWith({ elements }: Pick<LimnerRecord, 'elements'>, verdict: Verdict): ElementFinding[] {
  return elements
    .filter((finding) => finding.verdict === verdict)
    .sort((a, b) => b.counts.value - a.counts.value || a.z - b.z);
}

/** An element outside the explanation whose rival is open itself: the rival's question is the same. */
export function isToldByRival(
  { symbol, massFraction, rivals: [rival] }: ElementFinding,
  { elements }: Pick<LimnerRecord, 'elements'>,
): boolean {
  const other = elements.find((one) => one.symbol === rival?.name);
  const asked = other?.verdict === 'open' && other.massFraction !== null;
  return massFraction === null && asked && (other.rivals[0]?.name.split('+').includes(symbol) ?? false);
}

/** Peaks that nothing in the explanation carries. */
export const barePeaks = ({ peaks }: Pick<LimnerRecord, 'peaks'>): LimnerRecord['peaks'] =>
  peaks.filter(({ explainedBy }) => explainedBy.length === 0);

export const answer = (record: LimnerRecord): Node | null => paragraph('answer', summary(record), 'brief', 'lead');

/** The reading in a few sentences: what the counts require, what the mounting can bring, what is open, what nothing explains, what fits. */
export function summary(record: LimnerRecord): string {
  const fault = faultOf(record);
  if (fault && findingsWith(record, 'present').length === 0) return `${fault} Nothing is called present.`;
  return [() => fault, required, surroundings, openQuestions, unexplained, bestFit]
    .map((part) => part(record))
    .filter(Boolean)
    .join(' ');
}

/** What went wrong comes first: the gravest, in few words; the warnings say the rest. */
const FAULTS: readonly (readonly [code: string, text: string])[] = [
  ['photon-excited', 'The lines look excited by X-rays, not by electrons.'],
  ['axis-wrong', 'The energy axis is wrong.'],
  ['unfinished', 'The counts could not be fully explained.'],
  ['axis-corrected', 'The energy axis stated in the file is wrong; one that fits is used instead.'],
  ['poor-fit', 'The model fits poorly.'],
  ['not-settled', 'The set of elements was still changing when the fit ended.'],
];

function faultOf({ warnings }: LimnerRecord): string {
  return FAULTS.find(([code]) => warnings.some((warning) => warning.code === code))?.[1] ?? '';
}

function required(record: LimnerRecord): string {
  const findings = findingsWith(record, 'present').filter(({ origin }) => origin === 'specimen');
  if (findings.length === 0) return 'The counts require no element that must come from the specimen.';
  return `The counts require ${elementsNamed(findings)}.`;
}

function surroundings(record: LimnerRecord): string {
  const origins = mountOrigins(record.conditions.mount);
  const byDetector = ({ z, origin }: ElementFinding): boolean =>
    origin === 'either' && originOf(z, origins) === 'specimen';
  const present = findingsWith(record, 'present').filter(({ origin }) => origin !== 'specimen');
  const [own, rest] = [present.filter(byDetector), present.filter((finding) => !byDetector(finding))];
  return [
    there(
      rest.filter(({ origin }) => origin === 'either'),
      'also present, from the specimen or the mounting',
    ),
    there(
      rest.filter(({ origin }) => origin === 'setting'),
      'also present, most likely from the mounting',
    ),
    there(own, 'also present, from the specimen or the detector itself'),
  ]
    .filter(Boolean)
    .join(' ');
}

const there = (findings: readonly ElementFinding[], rest: string): string =>
  findings.length > 0 ? `${capital(elementsNamed(findings))} ${findings.length === 1 ? 'is' : 'are'} ${rest}.` : '';

function openQuestions(record: LimnerRecord): string {
  const open = findingsWith(record, 'open').filter((finding) => !isToldByRival(finding, record));
  return open.length === 0 ? 'No element is open.' : `Open: ${listed(open.map(question))}.`;
}

/** 'antimony (or tin)'; without a rival, the element alone. */
function question({ z, rivals }: ElementFinding): string {
  const rival = namedRival(rivals);
  return rival ? `${elementName(z)} (or ${rivalInWords(rival)})` : elementName(z);
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

/** The best explanation of a grain. */
export interface Headline {
  /** Its first part, what gives the colour: id, and what may stand in its place. */
  readonly id: string;
  readonly alike: readonly string[];
  /** 'Vermilion with lead white' */
  readonly name: string;
}

/** The explanation that heads a reading; null where none stands out, or where all it needs is medium. */
export function bestFitting({
  explanations: [best],
  elements,
}: Pick<LimnerRecord, 'explanations' | 'elements'>): Headline | null {
  if (best === undefined || best.parts.length === 0 || best.score < LEAST_SCORE) return null;
  if (!elements.some(({ verdict, symbol }) => verdict === 'present' && !MEDIUM.has(symbol))) return null;
  const [first] = best.parts;
  return { id: first.id, alike: first.others.map(({ name }) => name), name: best.name };
}

/** What the grain may be: the explanation that stands out, or those that share the weight; what it leaves over. */
function bestFit(record: LimnerRecord): string {
  const { explanations, elements } = record;
  const [best] = explanations;
  if (!elements.some(({ verdict, symbol }) => verdict === 'present' && !MEDIUM.has(symbol))) return '';
  if (best === undefined) return '';
  const over = best.leftOver.slice(0, MOST_OVER).map(({ symbol }) => elementName(zOf(symbol) ?? 0));
  if (best.parts.length === 0) return over.length > 0 ? `No material known to Limner explains ${listed(over)}.` : '';
  const told = different(explanations, best)
    .slice(0, MOST_GRAINS)
    .map(({ name, score }) => within(name) + (best.score < CLEAR ? ` (${fixed(score, 2)})` : ''));
  const several = told.length > 1 ? 'are' : 'is';
  const lead = best.score < LEAST_SCORE ? `No explanation stands out; the best ${several}` : 'Best fit:';
  const left = over.length > 0 ? ` That leaves ${listed(over)} unexplained.` : '';
  return `${lead} ${told.join('; or ')}.${left}`;
}

/** The best explanation and others worth naming, each with something else first: what goes with it is told in full. */
function different(explanations: LimnerRecord['explanations'], best: GrainExplanation): GrainExplanation[] {
  const told: GrainExplanation[] = [];
  for (const explanation of explanations) {
    const [first] = explanation.parts;
    const isTold = told.some(({ parts }) => {
      const [{ id, others }] = parts;
      return first !== undefined && [id, ...others.map((other) => other.id)].includes(first.id);
    });
    if (first !== undefined && !isTold && explanation.score >= WORTH_NAMING * best.score) told.push(explanation);
  }
  return told;
}

/** 'chalk, gypsum and 3 more' */
export const alikeText = (names: readonly string[], length: keyof typeof MOST_ALIKE): string =>
  listedUpTo(
    MOST_ALIKE[length],
    names.map((name) => shortName(within(name))),
  );

/** '1 element', '3 elements' */
export const elementCount = (findings: readonly unknown[]): string => counted(findings.length, 'element');

import { materialById } from '../pigments/knowledge.ts';
import { opticsOf } from '../pigments/optics-table.ts';
import type { GrainData } from '../pigments/standing.ts';
import { areApart, strange } from './apart.ts';
import { type Technique, TECHNIQUES } from './techniques.ts';

/** A material that elements leave possible, with its share of the weight. */
export interface Remaining {
  readonly id: string;
  readonly name: string;
  readonly share: number;
}

/** What a technique would show of a material: bands in cm-1, or words. */
export interface LookFor {
  readonly id: string;
  readonly name: string;
  readonly shows: readonly string[];
}

export interface PhaseProposal {
  readonly technique: Technique['id'];
  readonly touches: boolean;
  readonly effort: number;
  /** Chance that it tells apart two materials that the question leaves, each as likely as it is now. */
  readonly settles: number;
  readonly look: readonly LookFor[];
}

/** Materials between which elements cannot decide, and what can, best for its effort first. */
export interface PhaseQuestion {
  readonly remaining: readonly Remaining[];
  readonly proposals: readonly PhaseProposal[];
}

/** A material less likely than this in its place is not asked after; nor is an explanation, against the best. */
const LEAST = { share: 0.05, score: 0.2 };
/** Materials that a question is about, and that a proposal tells what to look for. */
const MOST = { remaining: 8, looked: 4 };
/** A technique that settles less is not proposed. */
const LEAST_SETTLED = 0.2;

/** What the explanations of a grain leave open: in each place of the best one, and between it and the next. */
export function phaseQuestions(explanations: readonly Pick<GrainData, 'parts' | 'score'>[]): PhaseQuestion[] {
  const [best] = explanations;
  if (best === undefined) return [];
  return [...best.parts.map(remainingIn), rivalsIn(explanations)]
    .filter((remaining) => remaining.length > 1)
    .map((remaining) => ({ remaining, proposals: proposalsFor(remaining) }));
}

/** A part of an explanation and what may stand in its place, likeliest first. */
export function remainingIn({
  id,
  name,
  others,
}: Pick<GrainData['parts'][number], 'id' | 'name' | 'others'>): Remaining[] {
  const share = 1 - others.reduce((sum, other) => sum + other.share, 0);
  return worthAsking([{ id, name, share }, ...others]);
}

const worthAsking = (remaining: readonly Remaining[]): Remaining[] =>
  remaining.filter(({ share }) => share >= LEAST.share).slice(0, MOST.remaining);

/** What gives the colour in the best explanation, and in others where it is something else. */
export function rivalsIn(explanations: readonly Pick<GrainData, 'parts' | 'score'>[]): Remaining[] {
  const near = explanations.filter(({ score }) => score >= LEAST.score * explanations[0].score);
  const groups = new Map<number, Remaining>();
  for (const { parts, score } of near) {
    const [first] = parts;
    if (first === undefined) continue;
    const known = groups.get(first.group);
    groups.set(first.group, { id: first.id, name: first.name, ...known, share: (known?.share ?? 0) + score });
  }
  return worthAsking([...groups.values()].sort((a, b) => b.share - a.share));
}

/** What can decide between materials, the best for its effort first. */
export function proposalsFor(remaining: readonly Remaining[]): PhaseProposal[] {
  return TECHNIQUES.map((technique): PhaseProposal => {
    const { id, touches, effort } = technique;
    return {
      technique: id,
      touches,
      effort,
      settles: settledBy(technique, remaining),
      look: lookFor(technique, remaining),
    };
  })
    .filter(({ settles, look }) => settles >= LEAST_SETTLED && look.length > 0)
    .sort((a, b) => b.settles / b.effort - a.settles / a.effort || Number(a.touches) - Number(b.touches));
}

function settledBy({ shows }: Technique, remaining: readonly Remaining[]): number {
  let [apart, all] = [0, 0];
  remaining.forEach((a, i) =>
    remaining.slice(i + 1).forEach((b) => {
      const weight = a.share * b.share;
      all += weight;
      if (shows.some((property) => areApart(a.id, b.id, property))) apart += weight;
    }),
  );
  return all > 0 ? apart / all : 0;
}

/** For the likeliest, what sets each apart from one of the others. */
function lookFor({ shows }: Technique, remaining: readonly Remaining[]): LookFor[] {
  return remaining.slice(0, MOST.looked).flatMap(({ id, name }) => {
    const others = remaining.filter((other) => other.id !== id);
    const property = shows.find((one) =>
      others.some((other) => areApart(id, other.id, one) || areApart(other.id, id, one)),
    );
    if (property === undefined || materialById(id) === undefined) return [];
    const words = wordsOf(id, property, others);
    return words.length > 0 ? [{ id, name, shows: words }] : [];
  });
}

function wordsOf(id: string, property: Technique['shows'][number], others: readonly Remaining[]): string[] {
  const cell = opticsOf(id)[property];
  if (cell === undefined) return [];
  const { value } = cell;
  if (property === 'raman_cm1' || property === 'infrared_cm1') {
    const bands = opticsOf(id)[property]!.value;
    const telling = others.flatMap((other) => strange(bands, opticsOf(other.id)[property]?.value));
    const strongest = bands.filter(({ strongest: most }) => most).map(({ cm1 }) => cm1);
    return [...new Set(telling.length > 0 ? telling : strongest)].sort((a, b) => a - b).map(String);
  }
  if (typeof value === 'string') return [value];
  if (!Array.isArray(value)) return rangeWords(value as { low: number; high: number });
  const words = value.map(String);
  if (property === 'colour' || property === 'diffraction') return words.slice(0, 1);
  const shared = new Set(others.flatMap((other) => (opticsOf(other.id)[property]?.value as readonly string[]) ?? []));
  const own = words.filter((word) => !shared.has(word));
  return own.length > 0 ? own : words;
}

const rangeWords = ({ low, high }: { readonly low: number; readonly high: number }): string[] => [
  `refractive index ${low} to ${high}`,
];

/** All the same compound, whatever its origin. */
export function areOneCompound(remaining: readonly Pick<Remaining, 'id'>[]): boolean {
  const [first, ...others] = remaining.map(({ id }) => opticsOf(id).diffraction?.value[0]);
  return first !== undefined && first !== AMORPHOUS && others.every((phase) => phase === first);
}

const AMORPHOUS = 'amorphous';

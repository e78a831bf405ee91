import { zOf } from '../atomic/elements.ts';
import type { MassFractions } from '../atomic/composition.ts';
import { knownLookalikes, materialById, MATERIALS } from '../pigments/knowledge.ts';
import { SIGMAS } from '../plan/counts-for.ts';
import { answered, usualMeasurement } from '../plan/overlap.ts';
import type { TellingLine } from '../plan/separation.ts';
import { DIFFICULTY, type Exercise } from './exercise.ts';
import { compositionOf, withoutElements } from './specimen.ts';

/** What the counts of an exercise can decide of an element, whatever the recipe says. */
export interface Decidable {
  readonly symbol: string;
  readonly present: boolean;
  /** Standard deviations: of the element as it is there, or of the content asked about where it is not. */
  readonly sigma: number;
  /** At least 3 standard deviations. */
  readonly decides: boolean;
  readonly recorded: boolean;
  readonly countsNeeded: number | null;
  readonly mostSigma: number;
  /** Content by mass: as it is, or asked about. */
  readonly content: number;
  readonly lines: readonly TellingLine[];
}

/** What the counts can decide of each element asked about. */
export function decidableOf(exercise: Exercise): Decidable[] {
  const truth = compositionOf(exercise.parts);
  const measurement = usualMeasurement(exercise.beamKev, exercise.fwhmMnEv, exercise.counts);
  return exercise.asked.map((symbol) => {
    const z = zOf(symbol) ?? 0;
    const present = truth[z] > 0;
    const content = present ? truth[z] : DIFFICULTY[exercise.level].content;
    const withIt = present ? truth : withContent(truth, z, content);
    const { sigma, ...rest } = answered(withIt, withoutElements(withIt, [z]), measurement);
    return { symbol, present, sigma, decides: sigma >= SIGMAS, content, ...rest };
  });
}

/** A composition with a content of an element that it lacks, the others in proportion. */
export function withContent(truth: MassFractions, z: number, content: number): MassFractions {
  return truth.map((value, other) => (other === z ? content : value * (1 - content)));
}

export type StudentVerdict = 'present' | 'absent' | 'cannot-tell';
export const STUDENT_VERDICTS: readonly StudentVerdict[] = ['present', 'absent', 'cannot-tell'];

/** What a student says of an element. */
export interface StudentAnswer {
  readonly verdict: StudentVerdict;
  /** Probability that it is there, 0 to 1; null where none was given. */
  readonly probability: number | null;
}

/** Probability that a verdict without one stands for. */
const STANDS_FOR: Readonly<Record<StudentVerdict, number>> = { present: 0.95, absent: 0.05, 'cannot-tell': 0.5 };

export interface Mark {
  /** At most 1; -3 for being certain of what is not so. */
  readonly points: number;
  /** Probability that the student's answer stands for. */
  readonly said: number;
  /** Probability that the counts bear. */
  readonly borne: number;
}

/** Certain and wrong costs three points, certain where nothing can be told one, and no answer nothing. */
const SCALE = 4;

/**
 * Marks an answer against what the counts bear: 1 where it is there and they tell, 0 where it is not and they would have told, 1/2
 * where they cannot tell. Points are 1 - 4 (said - borne)^2, a quadratic score: proper, so saying what one believes pays best
 * (G.W. Brier, Mon. Weather Rev. 78 (1950) 1).
 */
export function markOf({ present, decides }: Decidable, { verdict, probability }: StudentAnswer): Mark {
  const said = probability ?? STANDS_FOR[verdict];
  const borne = decides ? Number(present) : 0.5;
  return { points: 1 - SCALE * (said - borne) ** 2, said, borne };
}

/** Whether verdict and probability agree: 'present' with 20 % does not. */
export function agrees({ verdict, probability }: StudentAnswer): boolean {
  if (probability === null) return true;
  if (verdict === 'present') return probability > 0.5;
  return verdict === 'absent' ? probability < 0.5 : probability >= 0.2 && probability <= 0.8;
}

/** A material named: right where it is a part of the grain, or one that elements cannot tell from a part. */
export function materialMark({ parts }: Exercise, named: string): { readonly points: number; readonly known: boolean } {
  const wanted = named.trim().toLowerCase();
  const material = materialById(wanted) ?? MATERIALS.find(({ name }) => name.toLowerCase() === wanted);
  if (material === undefined) return { points: 0, known: false };
  const right = parts.some(({ of }) => of === material.id || knownLookalikes(of).has(material.id));
  return { points: Number(right), known: true };
}

import { exp } from '../../arithmetic/exponential.ts';
import { COLOUR_SLIP, MOST_SHIFT, SLIP } from '../../evidence/observation-term.ts';
import type { GrainExplanation } from '../../pigments/standing.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { within } from '../terms/names.ts';
import { capital, fixed, listed, percent, significant } from '../terms/numerals.ts';
import { observationPhrase } from '../words/seen.ts';
import { item, list, type Node, paragraph, section } from './tree.ts';

/** What else was seen, what it changes, and what it asks. */
export function seen(record: LimnerRecord): Node | null {
  const told = record.seen;
  if (told === undefined) return null;
  const phrases = told.observations.map(({ property, value }) => observationPhrase(property, value));
  return section('seen', 'What else was seen', [
    paragraph('seen-told', `${capital(phrases.join('; '))}. ${changed(record)}`),
    list(
      'seen-questions',
      told.questions.map(({ property, text }) => item(`seen-${property}`, text)),
    ),
    paragraph(
      'seen-note',
      `An observation is assumed to be wrong in ${percent(COLOUR_SLIP)} of cases for colour and in ${percent(SLIP)} for the rest. ` +
        `One property moves the odds of two explanations by a factor of at most ${significant(exp(MOST_SHIFT), 2)}. ` +
        'Properties are treated as independent, which is only roughly true. Most of the table behind this was recalled from memory, not measured.',
      'full',
      'note',
    ),
  ]);
}

/** Materials that are named on each side. */
const MOST_NAMED = 3;

/** What may give the grain its colour with what was seen, beside what the elements say alone. */
function changed({ explanations, seen: told }: LimnerRecord): string {
  const [best] = explanations;
  const [alone] = told!.withoutIt;
  if (best === undefined || alone === undefined) return '';
  return `With it, the main part of the grain is ${firstPart(best)}; from the elements alone, ${firstPart(alone)}.`;
}

/** 'azurite 0.41 and malachite 0.30': what may stand there, each with its share of all explanations. */
function firstPart({ parts: [first], score }: GrainExplanation): string {
  if (first === undefined) return `medium only ${fixed(score, 2)}`;
  const rest = first.others.reduce((sum, { share }) => sum + share, 0);
  const all = [{ name: first.name, share: 1 - rest }, ...first.others].slice(0, MOST_NAMED);
  return listed(all.map(({ name, share }) => `${within(name)} ${fixed(share * score, 2)}`));
}

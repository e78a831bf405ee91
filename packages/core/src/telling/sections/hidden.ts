import { elementName, zOf } from '../../atomic/elements.ts';
import type { ElementFinding } from '../../identify/finding.ts';
import { MATERIALS } from '../../pigments/knowledge.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { LEAST_HIDDEN, MEDIUM, MOST_HIDDEN, NOT_PAINT } from '../terms/cutoffs.ts';
import { percent } from '../terms/numerals.ts';

/** Elements that the common materials of paint require, those aside that every medium brings. */
const MATTERING: ReadonlySet<string> = new Set(
  MATERIALS.filter(({ usualness, class: kind }) => usualness === 'common' && !NOT_PAINT.has(kind))
    .flatMap(({ required }) => required)
    .filter((symbol) => !MEDIUM.has(symbol)),
);

/** 'Could hide here, by mass: sulfur under lead, up to 3 %.', and what else could; '' where nothing that matters for paint could. */
export function couldHide({ elements }: Pick<LimnerRecord, 'elements'>): {
  readonly most: string;
  readonly rest: string;
} {
  const hidden = elements
    .filter(({ symbol, verdict, under }) => under !== null && verdict !== 'open' && MATTERING.has(symbol))
    .filter((finding) => room(finding) >= LEAST_HIDDEN)
    .sort((a, b) => room(b) - room(a) || a.z - b.z)
    .map(place);
  const told = (lead: string, places: readonly string[]): string =>
    places.length > 0 ? `${lead}: ${places.join('; ')}.` : '';
  return {
    most: told('Could hide here, by mass', hidden.slice(0, MOST_HIDDEN.brief)),
    rest: told('Could also hide here', hidden.slice(MOST_HIDDEN.brief, MOST_HIDDEN.full)),
  };
}

/** Largest mass fraction that could hide; a spectrum that is blind to the element sets none. */
const room = ({ limit }: ElementFinding): number => limit?.massFraction ?? 1;

function place({ z, under, limit }: ElementFinding): string {
  const amount = limit === null ? 'in any amount' : `up to ${percent(limit.massFraction)}`;
  return `${elementName(z)} under ${elementName(zOf(under ?? '') ?? 0)}, ${amount}`;
}

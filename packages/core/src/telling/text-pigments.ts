import { elementName, zOf } from '../atomic/elements.ts';
import type { PigmentStanding } from '../pigments/standing.ts';
import { wrap } from './layout.ts';
import { capital, fixed, listed } from './numerals.ts';
import type { LimnerRecord } from '../record/record.ts';

const MOST_ALLOWED = 5;
const MOST_RULED_OUT = 4;
const MOST_LOOKALIKES = 5;
/** Allowed materials below this part of the best score are left to the record. */
const LEAST_OF_BEST = 0.35;

/** The materials allowed, best first, each with those that the same elements allow. */
export function allowedLines({ pigments }: LimnerRecord): string[] {
  const allowed = pigments.filter(({ standing }) => standing === 'allowed');
  if (allowed.length === 0) return ['  none of the materials known here'];
  const names = new Map(allowed.map(({ id, name }) => [id, name]));
  const worthy = allowed.filter(({ score }) => score >= LEAST_OF_BEST * allowed[0].score);
  const told = new Set<string>();
  const heads = worthy.filter(({ id, lookalikes }) => {
    const fresh = !told.has(id);
    if (fresh) for (const name of [id, ...lookalikes]) told.add(name);
    return fresh;
  });
  const lines = heads.slice(0, MOST_ALLOWED).flatMap((head) => groupLines(head, names));
  const rest = [...names.keys()].filter(
    (id) => !heads.slice(0, MOST_ALLOWED).some((h) => h.id === id || h.lookalikes.includes(id)),
  );
  return rest.length > 0 ? [...lines, ...wrap(`${rest.length} more that fit less well are in the record.`, 2)] : lines;
}

function groupLines(head: PigmentStanding, names: ReadonlyMap<string, string>): string[] {
  const { name, formula, score, reason, lookalikes, followUp } = head;
  const alike = lookalikes.flatMap((id) => names.get(id) ?? []);
  const shown = alike.slice(0, MOST_LOOKALIKES);
  const more = alike.length - shown.length;
  const tellApart = followUp ? ` What can: ${followUp}.` : '';
  const dates = years(head);
  return [
    ...wrap([name, formula, dates, `fit ${fixed(score, 2)}`].filter(Boolean).join('; '), 2, 4),
    ...wrap(reason, 6),
    ...(shown.length > 0
      ? wrap(
          `Elements alone cannot tell it from ${listed(more > 0 ? [...shown, `${more} more`] : shown)}.${tellApart}`,
          6,
        )
      : []),
  ];
}

/** Arguments on the earliest date older than this many years say little: most materials were always to be had. */
export const DATING_FROM = 1200;
const MOST_DATES = 3;

/** What the elements say about the earliest possible date of the grain. */
export function datingLines({ dating }: LimnerRecord): string[] {
  return dating
    .filter(({ year }) => year >= DATING_FROM)
    .slice(0, MOST_DATES)
    .flatMap(({ symbol, year, reason, weakestLink }) =>
      wrap(`${elementOf(symbol)}: not before about ${year}. ${reason} Weakest link: ${weakestLink.text}.`, 2, 2),
    );
}

/** What does not go with the stated date, as questions. */
export function dateQuestionLines({ statedDate }: LimnerRecord): string[] {
  if (!statedDate) return [];
  if (statedDate.questions.length === 0) return ['  Nothing that was found is out of place for it.'];
  return statedDate.questions.flatMap(({ question }) => wrap(question, 2, 2));
}

const elementOf = (symbol: string): string => capital(elementName(zOf(symbol)!));

/** The ruled-out materials that come nearest: most of what they require is present. */
export function ruledOutLines({ pigments, elements }: LimnerRecord): string[] {
  const present = new Set(elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol));
  const nearness = ({ required }: PigmentStanding): number => {
    const heavy = required.filter((symbol) => symbol !== 'C' && symbol !== 'O');
    return heavy.filter((symbol) => present.has(symbol)).length / Math.max(1, heavy.length);
  };
  return pigments
    .filter(({ standing }) => standing === 'ruled-out')
    .map((pigment) => ({ pigment, near: nearness(pigment) }))
    .filter(({ near }) => near > 0)
    .sort((a, b) => b.near - a.near || (a.pigment.id < b.pigment.id ? -1 : 1))
    .slice(0, MOST_RULED_OUT)
    .flatMap(({ pigment }) => wrap(`${capital(pigment.name)}: ${pigment.reason}`, 2, 2));
}

/** '1704', '400 BCE'. */
export const yearText = (year: number): string => (year < 0 ? `${-year} BCE` : String(year));

/** 'in use about 1300 to 1750'; empty where no date makes sense. */
export function years({ earliestUse, latestUse }: Pick<PigmentStanding, 'earliestUse' | 'latestUse'>): string {
  const year = yearText;
  if (earliestUse === null && latestUse === null) return '';
  if (latestUse === null) return `in use from about ${year(earliestUse!)}`;
  if (earliestUse === null) return `in use until about ${year(latestUse)}`;
  return `in use from about ${year(earliestUse)} to ${year(latestUse)}`;
}

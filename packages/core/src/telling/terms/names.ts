import { elementName } from '../../atomic/elements.ts';
import { lineAt, LINE_TABLE } from '../../atomic/lines.ts';
import { zOf } from '../../atomic/elements.ts';
import type { ElementFinding, Rival } from '../../identify/finding.ts';
import { MOST_IN_RIVAL } from './cutoffs.ts';
import { capital, listed, numberWord } from './numerals.ts';

/** 'K-L3 (Kα1)': the IUPAC name, the Siegbahn name beside it where there is one. */
export function lineName({ line, siegbahn }: { readonly line: string; readonly siegbahn: string | null }): string {
  return siegbahn ? `${line}\u00a0(${siegbahn})` : line;
}

/** The same where only the IUPAC name is at hand. */
export function lineOf(symbol: string, line: string): string {
  const z = zOf(symbol) ?? 0;
  for (let i = LINE_TABLE.first[z] ?? 0; i < (LINE_TABLE.first[z + 1] ?? 0); i++) {
    const { iupac, siegbahn } = lineAt(i);
    if (iupac === line) return `${symbol}\u00a0${lineName({ line, siegbahn })}`;
  }
  return `${symbol}\u00a0${line}`;
}

export const elementsNamed = (findings: readonly Pick<ElementFinding, 'z'>[]): string =>
  listed(findings.map(({ z }) => elementName(z)));

/** Symbols of a rival, or the artefact's name. */
export const membersOf = ({ kind, name }: Pick<Rival, 'kind' | 'name'>): string[] =>
  kind === 'artefact' ? [name] : name.split('+');

/** More elements at once than anyone would put forward. */
export const isCrowd = (rival: Pick<Rival, 'kind' | 'name'>): boolean => membersOf(rival).length > MOST_IN_RIVAL;

/** 'Tl + S', or how many elements it takes. */
export function rivalName(rival: Pick<Rival, 'kind' | 'name'>): string {
  const members = membersOf(rival);
  return isCrowd(rival) ? `${numberWord(members.length)} other elements together` : members.join('\u00a0+\u00a0');
}

/** First words of material names that keep their capital inside a sentence: they come from places and peoples. */
const PROPER = new Set(
  (
    'Antwerp Berlin Cassel Chinese Dutch Egyptian English French German Han Indian Italian Maya Naples Paris Persian Portland ' +
    'Prussian Roman Spanish Swedish Venetian Vienna'
  ).split(' '),
);

/** The name of a material inside a sentence: 'lead white', 'Prussian blue'. */
export function within(name: string): string {
  const [first] = name.split(/[^\p{L}]/u, 1);
  const initials = /^\p{Lu}{2}/u.test(name);
  return PROPER.has(first) || initials ? name : name.charAt(0).toLowerCase() + name.slice(1);
}

/** 'Vermilion with lead white and chalk' */
export function grainName(names: readonly string[]): string {
  if (names.length === 0) return 'Medium and mounting alone';
  const [first, ...others] = names;
  return others.length === 0 ? first : `${capital(first)} with ${listed(others.map(within))}`;
}

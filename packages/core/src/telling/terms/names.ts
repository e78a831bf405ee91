import { elementName, symbolOf } from '../../atomic/elements.ts';
import { lineAt, LINE_TABLE } from '../../atomic/lines.ts';
import { zOf } from '../../atomic/elements.ts';
import type { ElementFinding, Rival } from '../../identify/finding.ts';
import { MATERIALS } from '../../pigments/knowledge.ts';
import { AS_LIKELY, MOST_IN_RIVAL, MOST_OF_FAMILY } from './cutoffs.ts';
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
  kind === 'artefact' ? [artefactName(name)] : name.split('+');

/** Parts of the model whose names in the record are short, as a reader would call them. */
const ARTEFACTS: Readonly<Record<string, string>> = {
  'continuum doubt': 'uncertainty of the continuum',
  'soft bump': 'bump at low energy',
  'flat floor': 'flat background',
  'detector silicon': 'silicon of the detector',
  'detector aluminium': 'aluminium of the detector',
  'axis and width residue': 'residual error of axis and width',
  'measured less model': 'measured minus model',
};
export const artefactName = (name: string): string => ARTEFACTS[name] ?? name;

/** More elements at once than anyone would put forward. */
export const isCrowd = (rival: Pick<Rival, 'kind' | 'name'>): boolean => membersOf(rival).length > MOST_IN_RIVAL;

/** 'Tl + S', or how many elements it takes. */
export function rivalName(rival: Pick<Rival, 'kind' | 'name'>): string {
  const members = membersOf(rival);
  return isCrowd(rival) ? `${numberWord(members.length)} other elements together` : members.join('\u00a0+\u00a0');
}

/** 'thallium with sulfur', for a sentence that names its elements. */
export const rivalInWords = (rival: Pick<Rival, 'kind' | 'name'>): string =>
  rival.kind === 'artefact' || isCrowd(rival)
    ? rivalName(rival)
    : listed(
        membersOf(rival).map((symbol) => elementName(zOf(symbol) ?? 0)),
        'with',
      );

/** Elements that take the place of others: listed, or counted where they are more than anyone would put forward. */
export const insteadText = (names: readonly string[]): string =>
  names.length > MOST_IN_RIVAL ? `${numberWord(names.length)} other elements together` : listed(names);

/** Elements that usual materials of paint hold or bring along: a rival among them is one that a practitioner would name. */
const OF_PAINT: ReadonlySet<string> = new Set(
  MATERIALS.filter(({ usualness }) => usualness !== 'rare').flatMap(({ fractions, companions }) => [
    ...companions,
    ...Array.from(fractions.keys()).flatMap((z) => (fractions[z] > 0 ? [symbolOf(z)] : [])),
  ]),
);
/** Chi-square by which another rival may be worse than the best and still be named instead: it comes about as near. */
const ABOUT_AS_NEAR = 30;
/** Chi-square from which a rival of unusual elements is no rival that anyone would put forward: six standard deviations. */
const FAR = 40;

/**
 * The rival to name: the best that a practitioner would think of, unless one of unusual elements comes far nearer; none where only
 * unusual ones are left and none of them comes near.
 */
export function namedRival(rivals: readonly Rival[]): Rival | undefined {
  const [best] = rivals;
  const usual = rivals.find((rival) => rival.kind === 'artefact' || membersOf(rival).every((one) => OF_PAINT.has(one)));
  if (usual !== undefined && usual.deltaC <= Math.max(best.deltaC + ABOUT_AS_NEAR, 2 * best.deltaC)) return usual;
  return best === undefined || best.deltaC > FAR ? undefined : best;
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

/** A part of an explanation: its name, and what may stand in its place. */
interface NamedPart {
  readonly name: string;
  readonly others: readonly { readonly name: string; readonly share: number }[];
}

/**
 * 'Vermilion with lead white and chalk'; 'Azurite or malachite with chalk' where the counts cannot decide; 'Smalt, perhaps with quartz'. A
 * part that may be what one before it may be is not named again.
 */
export function grainName(parts: readonly NamedPart[], perhaps: readonly { readonly name: string }[] = []): string {
  if (parts.length === 0) return 'Medium and mounting alone';
  const fresh = parts.filter(
    ({ name }, place) => !parts.slice(0, place).some(({ others }) => others.some((other) => other.name === name)),
  );
  const [first, ...others] = fresh.map((part, place) =>
    familyName(part, place === 0 ? MOST_OF_FAMILY : MOST_OF_FAMILY - 1),
  );
  const sure = others.length === 0 ? capital(first) : `${capital(first)} with ${listed(others)}`;
  return perhaps.length === 0
    ? sure
    : `${sure}, perhaps with ${alternatives(shortNames(perhaps.map(({ name }) => name)))}`;
}

/** The likeliest, and those about as likely in its place: 'azurite', 'azurite or malachite', 'azurite, malachite or 3 others'. */
function familyName({ name, others }: NamedPart, most: number): string {
  const own = 1 - others.reduce((sum, { share }) => sum + share, 0);
  const equals = others.filter(({ share }) => share >= AS_LIKELY * own);
  const names = shortNames([name, ...equals.map((one) => one.name)]);
  const rest = names.length - most + 1;
  return alternatives(rest > 1 ? [...names.slice(0, most - 1), `${numberWord(rest)} others`] : names);
}

/** Names inside a sentence, varieties of one material once: 'titanium white' for its anatase and its rutile. */
export function shortNames(names: readonly string[]): string[] {
  const bases = names.map((name) => baseOf(within(name)));
  const told = names.map((name, i) => {
    const alone = bases.filter((base) => base === bases[i]).length === 1;
    return alone ? shortName(within(name)) : bases[i];
  });
  return [...new Set(told)];
}

/** What goes before a comma or a bracket. */
const baseOf = (name: string): string => name.split(/, | \(/, 1)[0];

/**
 * The name without further names for the same, a variety in brackets: 'calcite' of 'calcite, ground limestone or marble', 'cerussite' of
 * 'cerussite (...)', 'verdigris (basic)' of 'verdigris, basic'.
 */
export const shortName = (name: string): string =>
  name.includes(' or ') ? baseOf(name) : name.replace(/ \(.*\)$/, '').replace(/, (.*)$/, ' ($1)');

/** 'azurite, malachite or verdigris' */
export const alternatives = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} or ${names.at(-1)!}`;

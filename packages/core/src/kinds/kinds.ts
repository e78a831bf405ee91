import { ALIKE, type Compared, difference, type Difference } from './alike.ts';
import { type GrainComposition, SHARE_SYMBOLS } from './composition.ts';
import { KindCentre } from './kind-centre.ts';

/** Kinds settle in two or three rounds; where they sway between two states, this ends it. */
const MOST_ROUNDS = 8;

export interface NamedMaterial {
  readonly id: string;
  readonly name: string;
}

/** A spectrum to be grouped. */
export interface KindMember {
  readonly file: string;
  readonly sha256: string;
  readonly totalCounts: number;
  readonly composition: GrainComposition;
  /** The material that fits best, if one stands out. */
  readonly best: NamedMaterial | null;
}

/** Spectra of alike composition. */
export interface Kind {
  /** From 1, largest kind first. */
  readonly number: number;
  /** By its elements, 'Pb with Sn'. */
  readonly name: string;
  /** By file. */
  readonly members: readonly KindMember[];
  /** The most typical one of those with at least the kind's median counts. */
  readonly representative: KindMember;
  /** Elements seen in most members, with their mean shares without the medium; largest first. */
  readonly elements: readonly { readonly symbol: string; readonly share: number }[];
  /** The material that fits most members best, if it does more than half, and how many. */
  readonly best: { readonly material: NamedMaterial; readonly spectra: number } | null;
}

/** A spectrum like no other: how it differs from the kind that comes closest. */
export interface Outlier {
  readonly member: KindMember;
  readonly closest: { readonly kind: Kind; readonly difference: Difference } | null;
}

/** Spectra of a session grouped by composition, and those that are like no other. */
export interface Kinds {
  readonly kinds: readonly Kind[];
  /** By file. */
  readonly outliers: readonly Outlier[];
  /** Numbers of other kinds that a spectrum of a kind, by file, is alike to as well: its counts cannot tell. */
  readonly also: ReadonlyMap<string, readonly number[]>;
}

type Item = Compared & { readonly member: KindMember };

/**
 * Groups spectra by composition: strongest first, each joins the kind it differs least from, if they are alike, or begins one; then
 * kinds grown alike are joined and all spectra assigned anew, until nothing changes. The order of `members` does not matter.
 * Time and memory grow with spectra times kinds, and spectra.
 */
export function kindsOf(members: readonly KindMember[]): Kinds {
  const items = members.map(itemOf).sort(byStrength);
  let [groups, centres] = assigned(items, []);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const joined = joinedWhereAlike(centres);
    const [next, nextCentres] = assigned(items, joined);
    const settled = sameGroups(groups, next);
    [groups, centres] = [next, nextCentres];
    if (settled) break;
  }
  return described(groups, centres);
}

function itemOf(member: KindMember): Item {
  const { share, counting, physics, seen, dilution } = member.composition;
  return { member, share, counting, physics, dilution, at: seen.map((symbol) => SHARE_SYMBOLS.indexOf(symbol)) };
}

/** Puts each item to the closest centre; one alike to none begins a group of its own, which grows as it goes. */
function assigned(items: readonly Item[], given: readonly KindCentre[]): [Item[][], KindCentre[]] {
  const centres = [...given];
  const groups: Item[][] = centres.map(() => []);
  for (const item of items) {
    const i = closest(item, centres);
    if (i < 0) {
      centres.push(KindCentre.of([item]));
      groups.push([item]);
    } else {
      groups[i].push(item);
      if (i >= given.length) centres[i].add(item);
    }
  }
  const full = groups.filter((group) => group.length > 0);
  return [full, full.map((group) => KindCentre.of(group))];
}

/** Index of the centre that differs least from an item and is alike to it; -1 where there is none. */
function closest(item: Compared, centres: readonly Compared[]): number {
  let [least, best] = [ALIKE, -1];
  for (const [i, centre] of centres.entries()) {
    const { sigmas } = difference(item, centre, least);
    if (sigmas < least) [least, best] = [sigmas, i];
  }
  return best;
}

function joinedWhereAlike(centres: readonly KindCentre[]): KindCentre[] {
  const joined: KindCentre[] = [];
  for (const centre of [...centres].sort((a, b) => b.members - a.members)) {
    const i = closest(centre, joined);
    if (i < 0) joined.push(centre);
    else joined[i] = joined[i].with(centre);
  }
  return joined;
}

function described(groups: readonly Item[][], centres: readonly KindCentre[]): Kinds {
  const order = groups.map((_, i) => i).sort((i, j) => groups[j].length - groups[i].length || i - j);
  const real = order.filter((i) => groups[i].length > 1);
  const kinds = real.map((i, k) => kindOf(k + 1, groups[i], centres[i]));
  const kindCentres = real.map((i) => centres[i]);
  const alone = order.filter((i) => groups[i].length === 1).map((i) => groups[i][0]);
  const also = new Map<string, number[]>();
  for (const [k, i] of real.entries()) {
    for (const item of groups[i]) {
      const others = kindCentres.flatMap((c, j) => (j !== k && difference(item, c, ALIKE).sigmas < ALIKE ? j + 1 : []));
      if (others.length > 0) also.set(item.member.file, others);
    }
  }
  const outliers = alone.map((item) => ({ member: item.member, closest: closestKind(item, kinds, kindCentres) }));
  return { kinds, outliers: outliers.sort((a, b) => byText(a.member.file, b.member.file)), also };
}

function kindOf(number: number, group: readonly Item[], centre: KindCentre): Kind {
  const median = group[(group.length - 1) >> 1].member.totalCounts; // strongest first
  const strong = group.filter(({ member }) => member.totalCounts >= median);
  const distances = strong.map((item) => difference(item, centre).sigmas);
  const elements = centre.elements(group.length / 2);
  return {
    number,
    name: nameOf(elements),
    members: group.map(({ member }) => member).sort((a, b) => byText(a.file, b.file)),
    representative: strong[distances.indexOf(Math.min(...distances))].member,
    elements,
    best: bestOf(group),
  };
}

function closestKind(item: Item, kinds: readonly Kind[], centres: readonly KindCentre[]): Outlier['closest'] {
  let found: Outlier['closest'] = null;
  for (const [k, centre] of centres.entries()) {
    const apart = difference(item, centre, found?.difference.sigmas);
    if (found === null || apart.sigmas < found.difference.sigmas) found = { kind: kinds[k], difference: apart };
  }
  return found;
}

/** Named beside the largest: with 'and' from half of it, with 'with' from this share. */
const NAMED_SHARE = 0.05;
const MOST_WITH = 4;

/** 'Ca and S', 'Pb with Sn', or that there is only medium. */
export function nameOf(elements: Kind['elements']): string {
  const [largest] = elements;
  if (largest === undefined) return 'C, N, O only';
  const main = elements.filter(({ share }) => 2 * share >= largest.share).map(({ symbol }) => symbol);
  const minor = elements.filter(({ symbol, share }) => !main.includes(symbol) && share >= NAMED_SHARE);
  const company = minor.slice(0, MOST_WITH).map(({ symbol }) => symbol);
  return `${main.join(' and ')}${company.length > 0 ? ` with ${company.join(', ')}` : ''}`;
}

function bestOf(group: readonly Item[]): Kind['best'] {
  const counts = new Map<string, { material: NamedMaterial; spectra: number }>();
  for (const { member } of group) {
    if (member.best === null) continue;
    const { spectra = 0 } = counts.get(member.best.id) ?? {};
    counts.set(member.best.id, { material: member.best, spectra: spectra + 1 });
  }
  return [...counts.values()].find(({ spectra }) => 2 * spectra > group.length) ?? null;
}

const sameGroups = (a: readonly Item[][], b: readonly Item[][]): boolean =>
  a.length === b.length && a.every((group, i) => sameItems(group, b[i]));

const sameItems = (a: readonly Item[], b: readonly Item[]): boolean =>
  a.length === b.length && a.every((item, i) => item === b[i]);

const byStrength = (a: Item, b: Item): number =>
  b.member.totalCounts - a.member.totalCounts ||
  byText(a.member.sha256, b.member.sha256) ||
  byText(a.member.file, b.member.file);

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

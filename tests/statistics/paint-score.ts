// How a reading of a grain of paint is scored: materials of one family, which elements cannot split, count as one.
import { symbolOf, zOf } from '../../packages/core/src/atomic/elements.ts';
import { knownLookalikes, type Material, materialById } from '../../packages/core/src/pigments/knowledge.ts';
import type { GrainData } from '../../packages/core/src/pigments/standing.ts';
import type { PaintGrain } from './paint-grains.ts';

export interface PaintScore {
  readonly grain: PaintGrain;
  /** Every part of 5 % or more that elements can show is named, as there or as possible, and nothing else of as much is named as there. */
  readonly whole: boolean;
  /** The same with every part asked for, shown or not, and only what is named as there taken for named. */
  readonly strict: boolean;
  /** What gives the colour is the first part; null where most of it is a lake, or nothing: elements show no dye. */
  readonly colourFirst: boolean | null;
  /** Weight of the best explanation. */
  readonly told: number;
  readonly text: string;
}

/** Parts below this are forgiven, in the grain and in the reading. */
const FORGIVEN = 0.05;
/** Elements below sodium do not tell materials apart; what is not required may be missing. */
const LIGHTEST = 11;
/** Ratios of required elements nearer than this factor are one family: physics of 25 % and spread, two standard deviations. */
const SAME_RATIO = 1.65;
const PALE = new Set(['white', 'colourless', 'grey', 'various', 'none']);
/** An iron earth is iron oxide with clay, mica and quartz in any share: naming those, or another such earth, is as good. */
const EARTHS = /ochre|sienna|umber|bole|red-earth/;
const IRON_OXIDES = /^(haematite|mars|iron-hydroxide|caput-mortuum|magnetite)/;
const CLAYS = /^(kaolin|quartz|illite|muscovite|smectite|pyrophyllite|feldspar|biotite)/;
/** Made of others by their composition: naming those is as good. */
const MADE_OF: Readonly<Record<string, readonly string[]>> = {
  lithopone: ['barium-sulfate-natural', 'zinc-sulfide-white'],
  'titanium-barium-white': ['titanium-white-rutile', 'barium-sulfate-natural'],
  'titanium-calcium-white': ['titanium-white-rutile', 'gypsum'],
  'cadmium-yellow-barium': ['cadmium-yellow', 'barium-sulfate-natural'],
  'cadmium-red-barium': ['cadmium-red', 'barium-sulfate-natural'],
  'chrome-green': ['chrome-yellow', 'prussian-blue', 'barium-sulfate-natural'],
  'part-gold': ['gold-leaf', 'silver-leaf'],
  'zinc-green': ['zinc-yellow', 'prussian-blue', 'chalk'],
};

/** What shows of a material: all above oxygen, by mass. */
const shown = ({ fractions, required }: Material): Map<string, number> =>
  new Map(
    Array.from(fractions.entries()).flatMap(([z, part]) =>
      z >= LIGHTEST && part > 0 && (required.includes(symbolOf(z)) || part > 0.1) ? [[symbolOf(z), part] as const] : [],
    ),
  );

/** Two materials that elements cannot split: the same required elements in ratios within their spreads, or stated look-alikes. */
export function areFamily(one: string, other: string): boolean {
  if (one === other) return true;
  const [a, b] = [materialById(one)!, materialById(other)!];
  const [ofA, ofB] = [shown(a), shown(b)];
  // Sulfur lies under the M lines of lead and of mercury: it is no ground to split materials with either.
  if (ofA.has('Pb') && ofB.has('Pb')) for (const of of [ofA, ofB]) of.delete('S');
  if (ofA.size !== ofB.size || [...ofA.keys()].some((symbol) => !ofB.has(symbol))) return false;
  const loose = SAME_RATIO * Math.exp(2 * Math.hypot(a.spread, b.spread));
  const ratios = [...ofA].map(([symbol, part]) => part / ofB.get(symbol)!);
  return Math.max(...ratios) / Math.min(...ratios) < loose || knownLookalikes(one).has(other);
}

type Family = (one: string, other: string) => boolean;

/** Or types of one pigment, as lead-tin yellow of type I and II: the sources of lookalikes.csv tell them apart by what a neighbour may hold. */
const areTypesOrFamily: Family = (one, other) => {
  const pigmentOf = (id: string): string => materialById(id)!.name.split(',')[0];
  return areFamily(one, other) || (pigmentOf(one) === pigmentOf(other) && knownLookalikes(one).has(other));
};

export function scoreOf(grain: PaintGrain, explanations: readonly GrainData[]): PaintScore {
  const [best] = explanations;
  const sum = best.parts.reduce((all, { massFraction }) => all + massFraction.value, 0);
  const named = best.parts
    .filter(({ id, massFraction }) => isShown(id) && massFraction.value >= FORGIVEN * sum)
    .map(({ id }) => id);
  const all = best.parts.map(({ id }) => id);
  const possible = [...all, ...best.perhaps.map(({ id }) => id)];
  const parts = grain.parts.filter(({ id }) => isShown(id));
  const asked = parts.filter(({ part }) => part >= FORGIVEN);
  const present = parts.map(({ id }) => id);
  const noMore = (family: Family): boolean => named.every((id) => isNamed(id, present, family));
  const seen = visible(parts);
  const whole =
    noMore(areTypesOrFamily) &&
    asked.every((part) => !seen.includes(part) || isNamed(part.id, possible, areTypesOrFamily));
  const strict = noMore(areFamily) && asked.every(({ id }) => isNamed(id, all));
  const coloured = colouring(grain);
  const first = best.parts[0]?.id;
  return {
    grain,
    whole,
    strict,
    colourFirst:
      coloured.length === 0 || isLake(coloured[0].id)
        ? null
        : first !== undefined &&
          coloured.some(
            ({ id, part }) =>
              part > coloured[0].part / 2 &&
              isNamed(id, [first, ...all.filter((other) => CLAYS.test(other))], areTypesOrFamily),
          ),
    told: best.score,
    text: explanations
      .slice(0, 3)
      .map(
        ({ parts: told, score, perhaps }) =>
          `${score.toFixed(2)} ${told.map(({ id, massFraction }) => `${id} ${massFraction.value.toFixed(2)}`).join(' + ')}${perhaps.map(({ id, share }) => `, perhaps ${id} ${share.toFixed(2)}`).join('')}`,
      )
      .join(' | '),
  };
}

/**
 * What elements can show. Not a part that brings none of its own and moves no ratio of the others' beyond what splits families, as a lake
 * on alumina beside four times as much clay: the grain with it and without it is one family. The least first.
 */
function visible(parts: PaintGrain['parts']): PaintGrain['parts'] {
  let left = [...parts];
  for (const part of [...parts].sort((a, b) => a.part - b.part)) {
    const rest = left.filter((other) => other !== part);
    if (isHidden(part, rest)) left = rest;
  }
  return left;
}

function isHidden({ id, part }: PaintGrain['parts'][number], beside: PaintGrain['parts']): boolean {
  const own = shown(materialById(id)!);
  const rest = beside.map((other) => ({ part: other.part, material: materialById(other.id)! }));
  const others = new Set(rest.flatMap(({ material }) => [...shown(material).keys()]));
  if (own.size === 0 || [...own.keys()].some((symbol) => !others.has(symbol))) return false;
  const ratios = [...others].map((symbol) => {
    const held = rest.reduce((sum, other) => sum + other.part * other.material.fractions[zOf(symbol)!], 0);
    return 1 + (part * (own.get(symbol) ?? 0)) / held;
  });
  const holders = rest.filter(({ material }) => [...shown(material).keys()].some((symbol) => own.has(symbol)));
  const spread = Math.max(...holders.map(({ material }) => material.spread));
  return Math.max(...ratios) / Math.min(...ratios) < SAME_RATIO * Math.exp(2 * spread);
}

/** A material, one of its family, or what it is made of, is among others. */
function isNamed(id: string, among: readonly string[], family: Family = areFamily): boolean {
  const like = (one: string): boolean => among.some((other) => family(one, other));
  if (like(id)) return true;
  if (MADE_OF[id]?.some(like) || among.some((other) => MADE_OF[other]?.some((part) => family(id, part)))) return true;
  if (EARTHS.test(id))
    return among.some((other) => EARTHS.test(other)) || (some(among, IRON_OXIDES) && some(among, CLAYS));
  return (IRON_OXIDES.test(id) || CLAYS.test(id)) && some(among, EARTHS);
}

const some = (ids: readonly string[], which: RegExp): boolean => ids.some((id) => which.test(id));

const GIVING: ReadonlySet<string> = new Set(['pigment', 'metal', 'lake']);
const isLake = (id: string): boolean => materialById(id)!.class === 'lake';
const isShown = (id: string): boolean => shown(materialById(id)!).size > 0;

/** The parts that give the colour and show, the most first; of a lake no more shows than its white substrate. */
export const colouring = ({ parts }: PaintGrain): PaintGrain['parts'][number][] =>
  parts
    .filter(({ id, part }) => {
      const { class: kind, hue } = materialById(id)!;
      return part >= FORGIVEN && isShown(id) && GIVING.has(kind) && !PALE.has(hue);
    })
    .sort((a, b) => b.part - a.part);

import { zOf } from '../atomic/elements.ts';
import { givesColour, letsDown, type PartOfGrain } from './colour-giving.ts';
import type { Material } from './knowledge.ts';
import { PRIORS } from './priors.ts';

/** Classes of materials whose years of use say something about when a paint was made. */
const DATED = new Set(['pigment', 'lake', 'metal', 'ground', 'filler']);

/** Fell on a paint or grew in it. */
const GROWN = new Set(['alteration', 'contaminant']);

/** Put into paint for its colour, or as its white. */
const PAINTING = new Set(['pigment', 'lake', 'metal']);

/** All that tells of an earth. */
const OF_EARTHS = new Set(['Fe', 'Si', 'Al', 'Mn']);
const [NITROGEN, SILICON] = [zOf('N')!, zOf('Si')!];

/** First use in painting where it is known, else first use; null where the material dates nothing. BCE negative. */
export const beginOf = ({ class: kind, firstPainting, earliest }: Material): number | null =>
  DATED.has(kind) ? (firstPainting ?? earliest) : null;

/** What the company of the parts adds to the priors of each, ln. @param fractions mass fraction of each in what was analysed */
export function lnCompanyOf(parts: readonly Pick<PartOfGrain, 'material'>[], fractions: ArrayLike<number>): number {
  let [total, all, extenders, grown] = [0, 0, 0, 0];
  let [begin, end] = [-Infinity, Infinity];
  for (let m = 0; m < parts.length; m++) {
    const companion = companionOf(parts[m].material);
    total += fractions[m];
    all |= companion.traits;
    if (has(companion.traits, TRAITS.extender)) extenders++;
    if (has(companion.traits, TRAITS.grown)) grown++;
    begin = Math.max(begin, companion.begin);
    end = Math.min(end, companion.end);
  }
  let sum = lnApart(begin - end) + lnDriers(parts, fractions, total);
  if (has(all, TRAITS.painting)) sum += PRIORS.extended.value * extenders;
  else if (extenders > 0 && parts.length > 1) sum += PRIORS.unpainted.value;
  if (has(all, TRAITS.coloured | TRAITS.white)) sum += PRIORS.whitened.value;
  if (grown > 0 && grown === parts.length) sum += PRIORS.grownAlone.value;
  return sum + lnOneMadeOfOthers(all);
}

/** Materials that were not in use together cost, by the years between. */
function lnApart(years: number): number {
  const apart = years - PRIORS.leewayYears.value;
  return apart > 0 ? Math.max(PRIORS.mostApart.value, PRIORS.apart.value * apart) : 0;
}

function lnDriers(
  parts: readonly Pick<PartOfGrain, 'material'>[],
  fractions: ArrayLike<number>,
  total: number,
): number {
  let sum = 0;
  for (let m = 0; m < parts.length; m++)
    if (parts[m].material.class === 'drier' && fractions[m] > PRIORS.drierTrace.value * total)
      sum += PRIORS.muchDrier.value;
  return sum;
}

/** Materials side by side that are one material together, or of which one holds enough of the other. @param all traits of any of them */
function lnOneMadeOfOthers(all: number): number {
  let sum = 0;
  if (has(all, TRAITS.ironOxide | TRAITS.ofEarths)) sum += PRIORS.oxideWithClay.value;
  if (has(all, TRAITS.ironOxide | TRAITS.earth)) sum += PRIORS.oxideWithEarth.value;
  if (has(all, TRAITS.earth | TRAITS.manganese)) sum += PRIORS.manganeseWithEarth.value;
  if (has(all, TRAITS.ofAluminium | TRAITS.clay)) sum += PRIORS.lakeWithClay.value;
  if (has(all, TRAITS.ofAluminium | TRAITS.silica)) sum += PRIORS.aluminaWithQuartz.value;
  return sum;
}

/** Traits of a material that matter to its company, a bit each. */
const TRAITS = {
  painting: 1 << 0,
  coloured: 1 << 1,
  /** Whatever lets down a colour: what is no pigment, and a white one. */
  extender: 1 << 2,
  white: 1 << 3,
  grown: 1 << 4,
  ironOxide: 1 << 5,
  earth: 1 << 6,
  ofEarths: 1 << 7,
  manganese: 1 << 8,
  ofAluminium: 1 << 9,
  clay: 1 << 10,
  silica: 1 << 11,
} as const;

const has = (traits: number, wanted: number): boolean => (traits & wanted) === wanted;

interface Companion {
  readonly traits: number;
  /** Years of use, infinite where they say nothing. */
  readonly begin: number;
  readonly end: number;
}

/** Each worked out once: tens of thousands of companies follow each other. */
const COMPANIONS = new WeakMap<Material, Companion>();

function companionOf(material: Material): Companion {
  let companion = COMPANIONS.get(material);
  if (companion === undefined) COMPANIONS.set(material, (companion = madeCompanion(material)));
  return companion;
}

function madeCompanion(material: Material): Companion {
  const { class: kind, latest } = material;
  const pale = letsDown(material);
  const shown: Readonly<Record<keyof typeof TRAITS, boolean>> = {
    painting: PAINTING.has(kind),
    coloured: givesColour(material),
    extender: pale && kind !== 'pigment',
    white: pale && kind === 'pigment',
    grown: GROWN.has(kind),
    ironOxide: isIronOxide(material),
    earth: isEarth(material),
    ofEarths: isOfEarths(material),
    manganese: isManganese(material),
    ofAluminium: isOfAluminium(material),
    clay: isClay(material),
    silica: isSilica(material),
  };
  let traits = 0;
  for (const trait of Object.keys(TRAITS) as (keyof typeof TRAITS)[]) if (shown[trait]) traits |= TRAITS[trait];
  return {
    traits,
    begin: beginOf(material) ?? -Infinity,
    end: DATED.has(kind) ? (latest ?? Infinity) : Infinity,
  };
}

/** Iron is all that tells of it: what an earth holds beside clay and quartz. Prussian blue, with nitrogen, is none. */
const isIronOxide = ({ class: kind, required, fractions }: Material): boolean =>
  kind === 'pigment' && required.join() === 'Fe' && fractions[NITROGEN] === 0;

/** Iron with silicon, and no more than aluminium and manganese beside: an ochre, sienna, umber or bole. */
const isEarth = ({ class: kind, required, fractions }: Material): boolean =>
  (kind === 'pigment' || kind === 'ground') &&
  required.includes('Fe') &&
  required.every((symbol) => OF_EARTHS.has(symbol)) &&
  fractions[SILICON] > 0;

/** Manganese is all that tells of it. */
const isManganese = ({ class: kind, required }: Material): boolean => kind === 'pigment' && required.join() === 'Mn';

const isOfEarths = ({ class: kind, required }: Material): boolean => kind === 'filler' && required.includes('Si');

/** Aluminium is all that tells of it: lakes on alumina, and alumina itself. */
const isOfAluminium = ({ required }: Material): boolean => required.join() === 'Al';

const isSilica = ({ class: kind, required }: Material): boolean => kind === 'filler' && required.join() === 'Si';

const isClay = ({ required }: Material): boolean => required.includes('Al') && required.includes('Si');

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

/** What the company of the parts adds to the priors of each, ln. */
export function lnCompanyOf(parts: readonly PartOfGrain[]): number {
  const total = parts.reduce((sum, { massFraction }) => sum + massFraction, 0);
  const materials = parts.map(({ material }) => material);
  const coloured = materials.some(givesColour);
  const pale = materials.filter(letsDown);
  const extenders = pale.filter(({ class: kind }) => kind !== 'pigment').length;
  const whites = pale.length - extenders;
  let sum = lnCoherenceOf(parts);
  for (const { material, massFraction } of parts)
    if (material.class === 'drier' && massFraction > PRIORS.drierTrace.value * total) sum += PRIORS.muchDrier.value;
  if (materials.some(({ class: kind }) => PAINTING.has(kind))) sum += PRIORS.extended.value * extenders;
  else if (extenders > 0 && materials.length > 1) sum += PRIORS.unpainted.value;
  if (coloured && whites > 0) sum += PRIORS.whitened.value;
  if (materials.length > 0 && materials.every(({ class: kind }) => GROWN.has(kind))) sum += PRIORS.grownAlone.value;
  return sum + lnOneMadeOfOthers(materials);
}

/** Materials side by side that are one material together, or of which one holds enough of the other. */
function lnOneMadeOfOthers(materials: readonly Material[]): number {
  const [oxide, earth, earthy] = [isIronOxide, isEarth, isOfEarths].map((test) => materials.some(test));
  let sum = 0;
  if (oxide && earthy) sum += PRIORS.oxideWithClay.value;
  if (oxide && earth) sum += PRIORS.oxideWithEarth.value;
  if (earth && materials.some(isManganese)) sum += PRIORS.manganeseWithEarth.value;
  if (materials.some(isOfAluminium) && materials.some(isClay)) sum += PRIORS.lakeWithClay.value;
  if (materials.some(isOfAluminium) && materials.some(isSilica)) sum += PRIORS.aluminaWithQuartz.value;
  return sum;
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

/** Materials that were not in use together cost, by the years between. */
function lnCoherenceOf(parts: readonly PartOfGrain[]): number {
  let [begin, end] = [-Infinity, Infinity];
  for (const { material } of parts) {
    begin = Math.max(begin, beginOf(material) ?? -Infinity);
    if (DATED.has(material.class)) end = Math.min(end, material.latest ?? Infinity);
  }
  const apart = begin - end - PRIORS.leewayYears.value;
  return apart > 0 ? Math.max(PRIORS.mostApart.value, PRIORS.apart.value * apart) : 0;
}

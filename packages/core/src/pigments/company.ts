import { givesColour, letsDown, type PartOfGrain } from './colour-giving.ts';
import type { Material } from './knowledge.ts';
import { PRIORS } from './priors.ts';

/** Classes of materials whose years of use say something about when a paint was made. */
const DATED = new Set(['pigment', 'lake', 'metal', 'ground', 'filler']);

/** Fell on a paint or grew in it. */
const GROWN = new Set(['alteration', 'contaminant']);

/** First use in painting where it is known, else first use; null where the material dates nothing. BCE negative. */
export const beginOf = ({ class: kind, firstPainting, earliest }: Material): number | null =>
  DATED.has(kind) ? (firstPainting ?? earliest) : null;

/** What the company of the parts adds to the priors of each, ln. */
export function lnCompanyOf(parts: readonly PartOfGrain[]): number {
  const total = parts.reduce((sum, { massFraction }) => sum + massFraction, 0);
  const coloured = parts.some(({ material }) => givesColour(material));
  const painted = coloured || parts.some(({ material }) => material.class === 'pigment');
  let sum = lnCoherenceOf(parts);
  for (const { material, massFraction } of parts) {
    if (material.class === 'drier' && massFraction > PRIORS.drierTrace.value * total) sum += PRIORS.muchDrier.value;
    if (!letsDown(material)) continue;
    if (material.class !== 'pigment') sum += painted ? PRIORS.extended.value : 0;
    else sum += coloured ? PRIORS.whitened.value : 0;
  }
  const names = parts.map(({ material }) => material);
  if (names.length > 0 && names.every(({ class: kind }) => GROWN.has(kind))) sum += PRIORS.grownAlone.value;
  if (names.some(isOfAluminium) && names.some(isClay)) sum += PRIORS.lakeWithClay.value;
  return names.some(isIronOxide) && names.some(isOfEarths) ? sum + PRIORS.oxideWithClay.value : sum;
}

/** Iron is all that tells of it: what an earth holds beside clay and quartz. */
const isIronOxide = ({ class: kind, required }: Material): boolean => kind === 'pigment' && required.join() === 'Fe';

const isOfEarths = ({ class: kind, required }: Material): boolean => kind === 'filler' && required.includes('Si');

/** Aluminium is all that tells of it: lakes on alumina, and alumina itself. */
const isOfAluminium = ({ required }: Material): boolean => required.join() === 'Al';

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

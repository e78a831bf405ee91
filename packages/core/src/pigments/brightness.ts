import { Type, type Static } from 'typebox';
import { type MassFractions, massFractionsOf } from '../atomic/composition.ts';
import { MAX_Z } from '../atomic/elements.ts';
import type { Finding } from '../identify/finding.ts';
import { type Backscatter, backscatterOf } from './backscatter-of.ts';
import type { Material } from './knowledge.ts';
import { type MaterialsInUse, materialsInUse } from './own-materials.ts';
import type { Standing } from './standing.ts';

/** Backscattered electrons per beam electron: a range for what is not known of the organic part, and the doubt at both its ends. */
export const BrightnessRange = Type.Object({
  /** Square of the mass-fraction mean of sqrt Z (Pouchou & Pichoir 1991), at the bright end. */
  meanZ: Type.Number(),
  low: Type.Number(),
  high: Type.Number(),
  sigma: Type.Number({ minimum: 0 }),
});
export type BrightnessRange = Static<typeof BrightnessRange>;

const ImageAnswer = Type.Union([Type.Literal('agrees'), Type.Literal('contradicts'), Type.Literal('cannot tell')]);
export type ImageAnswer = Static<typeof ImageAnswer>;

/** Something beside which the grain looked brighter or darker in the backscatter image. */
export const ImageNeighbour = Type.Object({
  order: Type.Union([Type.Literal('brighter-than'), Type.Literal('darker-than')]),
  name: Type.String(),
  backscatter: BrightnessRange,
});
export type ImageNeighbour = Static<typeof ImageNeighbour>;

export const Brightness = Type.Object({
  beamKev: Type.Number(),
  /** Of the composition as identified, hydrogen and the mounting left out; from all its carbon to none of it; null without amounts. */
  identified: Type.Union([BrightnessRange, Type.Null()]),
  /** Of the allowed materials, in the order of `pigments`; `image` is null where nothing was said of the image. */
  candidates: Type.Array(
    Type.Object({ id: Type.String(), backscatter: BrightnessRange, image: Type.Union([ImageAnswer, Type.Null()]) }),
  ),
  /** How it should look beside what is often next to it, darkest first; empty without amounts. */
  beside: Type.Array(
    Type.Object({
      name: Type.String(),
      looks: Type.Union([Type.Literal('brighter'), Type.Literal('alike'), Type.Literal('darker')]),
    }),
  ),
  /** What was said of the image. */
  said: Type.Array(ImageNeighbour),
  /** Whether the identified composition bears it out. */
  image: Type.Union([ImageAnswer, Type.Null()]),
});
export type Brightness = Static<typeof Brightness>;

/** Drying oil as triolein, and the most of it by mass that a paint as a whole is taken to hold. Chosen; a coarse grain holds none. */
const MEDIUM = massFractionsOf('C57H104O6');
const MOST_MEDIUM = 0.3;
const CARBON = 6;
/** Neighbours of a grain in most paintings, darkest first. */
const NEIGHBOURS: readonly (readonly [id: string, name: string])[] = [
  ['epoxy-resin', 'resin'],
  ['chalk', 'chalk'],
  ['yellow-ochre', 'earth'],
  ['zinc-white', 'zinc white'],
  ['lead-white', 'lead white'],
];
/** Standard deviations beyond which an order contradicts what was seen. */
const CONTRADICTS_FROM = 2;

/** How bright the grain should look, by what was identified and by each allowed material, and whether the image bears it out. Deterministic. */
export function brightnessOf(
  findings: readonly Finding[],
  pigments: readonly Standing[],
  beamKev: number,
  said: readonly ImageNeighbour[] = [],
  materials: MaterialsInUse = materialsInUse(null),
): Brightness {
  const identified = identifiedRange(findings, beamKev);
  const judged = (range: BrightnessRange | null): ImageAnswer | null =>
    said.length === 0 ? null : range === null ? 'cannot tell' : imageAnswer(range, said);
  const candidates = pigments
    .filter(({ standing }) => standing === 'allowed')
    .flatMap(({ id, beside }) => {
      const backscatter = materialRange(id, beamKev, materials);
      if (backscatter === null) return [];
      // A grain that holds others beside it is as bright as something between them.
      const others = beside.flatMap((other) => materialRange(other, beamKev, materials) ?? []);
      return [{ id, backscatter, image: judged(hull([backscatter, ...others])) }];
    });
  const beside = identified === null ? [] : besideNeighbours(identified, beamKev);
  return { beamKev, identified, candidates, beside, said: [...said], image: judged(identified) };
}

function besideNeighbours(range: BrightnessRange, beamKev: number): Brightness['beside'] {
  return NEIGHBOURS.flatMap(([id, name]): Brightness['beside'] => {
    const other = materialRange(id, beamKev);
    return other === null ? [] : [{ name, looks: looksBeside(range, other) }];
  });
}

function looksBeside(range: BrightnessRange, other: BrightnessRange): 'brighter' | 'alike' | 'darker' {
  if (orderAnswer(range, other) === 'agrees') return 'brighter';
  return orderAnswer(other, range) === 'agrees' ? 'darker' : 'alike';
}

/** A material of the knowledge: from a paint with medium to the pure grain; null where it is not known. */
export function materialRange(
  id: string,
  beamKev: number,
  { byId }: MaterialsInUse = materialsInUse(null),
): BrightnessRange | null {
  const material = byId(id);
  if (material === undefined) return null;
  let known = RANGES.get(material);
  if (known?.beamKev !== beamKev) RANGES.set(material, (known = { beamKev, range: rangeIn(material, beamKev) }));
  return { ...known.range };
}

/** Of each material for the last beam: the grains of a session are measured with one. */
const RANGES = new WeakMap<Material, { readonly beamKev: number; readonly range: BrightnessRange }>();

function rangeIn({ fractions }: Material, beamKev: number): BrightnessRange {
  const paint = fractions.map((part, z) => (1 - MOST_MEDIUM) * part + MOST_MEDIUM * MEDIUM[z]);
  return rangeOf(backscatterOf(paint, beamKev), backscatterOf(fractions, beamKev), 0);
}

function identifiedRange(findings: readonly Finding[], beamKev: number): BrightnessRange | null {
  const held = findings.filter(
    ({ verdict, massFraction, origin }) => verdict === 'present' && massFraction !== null && origin !== 'setting',
  );
  const all = compositionOf(held);
  const bare = compositionOf(held.filter(({ z }) => z !== CARBON));
  if (all === null || bare === null) return null;
  return rangeOf(backscatterOf(all, beamKev), backscatterOf(bare, beamKev), doubtOf(held, all, beamKev));
}

function compositionOf(held: readonly Finding[]): MassFractions | null {
  const total = held.reduce((sum, { massFraction }) => sum + massFraction!.value, 0);
  if (!(total > 0)) return null;
  const fractions = new Float64Array(MAX_Z + 1);
  for (const { z, massFraction } of held) fractions[z] = massFraction!.value / total;
  return fractions;
}

/** Standard deviation of the coefficient by the doubt of the amounts, each moved alone. */
function doubtOf(held: readonly Finding[], composition: MassFractions, beamKev: number): number {
  const { coefficient } = backscatterOf(composition, beamKev);
  const shifts = held.map(({ z, massFraction }) => {
    const { value, sigma } = massFraction!;
    const more = composition.map((part, other) => (other === z ? part * (1 + sigma / value) : part));
    const total = more.reduce((sum, part) => sum + part, 0);
    return (
      backscatterOf(
        more.map((part) => part / total),
        beamKev,
      ).coefficient - coefficient
    );
  });
  return Math.hypot(...shifts);
}

function rangeOf(a: Backscatter, bare: Backscatter, doubt: number): BrightnessRange {
  const [low, high] = [Math.min(a.coefficient, bare.coefficient), Math.max(a.coefficient, bare.coefficient)];
  const { meanZ } = bare.coefficient >= a.coefficient ? bare : a;
  return { meanZ, low, high, sigma: Math.hypot(doubt, Math.max(a.model, bare.model)) };
}

function hull(ranges: readonly BrightnessRange[]): BrightnessRange {
  return {
    meanZ: ranges[0].meanZ,
    low: Math.min(...ranges.map(({ low }) => low)),
    high: Math.max(...ranges.map(({ high }) => high)),
    sigma: Math.max(...ranges.map(({ sigma }) => sigma)),
  };
}

/** Of several statements one that contradicts is enough, and all must agree. */
function imageAnswer(range: BrightnessRange, said: readonly ImageNeighbour[]): ImageAnswer {
  const answers = said.map(({ order, backscatter }) =>
    order === 'brighter-than' ? orderAnswer(range, backscatter) : orderAnswer(backscatter, range),
  );
  if (answers.includes('contradicts')) return 'contradicts';
  return answers.every((answer) => answer === 'agrees') ? 'agrees' : 'cannot tell';
}

/** Whether one is brighter than another beyond their joint uncertainty. */
export function orderAnswer(brighter: BrightnessRange, darker: BrightnessRange): ImageAnswer {
  const apart = CONTRADICTS_FROM * Math.hypot(brighter.sigma, darker.sigma);
  if (brighter.high + apart < darker.low) return 'contradicts';
  return brighter.low > darker.high + apart ? 'agrees' : 'cannot tell';
}

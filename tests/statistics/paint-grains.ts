// Grains of paint as a cross-section holds them: materials drawn by how usual they are and by a year of painting, each varied as
// specimens of it vary, with medium, traces and surface salts. What they are made of is drawn here; who simulates them is not said.
import { massFractionsOf, mixture } from '../../packages/core/src/atomic/composition.ts';
import { MAX_Z, symbolOf, zOf } from '../../packages/core/src/atomic/elements.ts';
import { type Material, materialById, MATERIALS } from '../../packages/core/src/pigments/knowledge.ts';
import { randomStream, type RandomStream } from '../../packages/core/src/simulate/random.ts';

export interface PaintGrain {
  readonly name: string;
  /** Materials with their parts of the mass, medium, traces and salts apart; they add up to 1. */
  readonly parts: readonly { readonly id: string; readonly part: number }[];
  /** Mass fractions of the whole by atomic number. */
  readonly composition: Float64Array;
  readonly beamKev: number;
  readonly counts: number;
  readonly seed: number;
}

/** How often a material of each kind is met against the others (judgement; of all draws some 3 % are rare, 12 % occasional). */
const USUAL: Readonly<Record<Material['usualness'], number>> = { common: 1, occasional: 1 / 8, rare: 1 / 50 };
const COLOURS = new Set(['pigment', 'lake', 'metal']);
const EXTENDERS = new Set(['ground', 'filler']);
const WHITES = ['lead-white', 'zinc-white', 'titanium-white-rutile', 'titanium-white-anatase'];
const YEARS = [1450, 1990] as const;
/** A material is still met so many years after its usual use. */
const OLD_STOCK = 30;
/** Part of the second to fourth materials that are an extender, or a white. */
const [EXTENDED, WHITENED] = [0.4, 0.3];
const MEDIA = ['C18H32O2', 'C57H104O6', 'C5H8O2', 'C4H6N1O1'];
const TRACES = ['Si', 'Al', 'Ca', 'Fe', 'Cl', 'K', 'Na', 'P', 'S'];
const SALTS = ['NaCl', 'KCl', 'CaSO4', 'Na2SO4', 'KNO3'];
const BEAMS_KEV = [10, 15, 20, 20, 25];

/** Elements below sodium: medium and coating hold them as well. */
const isTelling = ({ fractions }: Material): boolean => fractions.some((part, z) => z > 10 && part > 0.02);

export function drawnGrain(seed: number): PaintGrain {
  const random = randomStream(seed, 7);
  const year = YEARS[0] + (YEARS[1] - YEARS[0]) * random.uniform();
  const number = pick([1, 1, 2, 2, 2, 3, 3, 4], random);
  const chosen = [drawn(random, year, COLOURS)];
  while (chosen.length < number) {
    const kind = random.uniform();
    const next =
      kind < EXTENDED
        ? drawn(random, year, EXTENDERS)
        : kind < EXTENDED + WHITENED
          ? usable(materialById(pick(WHITES, random))!, year)
          : drawn(random, year, COLOURS);
    if (next !== null && !chosen.includes(next)) chosen.push(next);
  }
  const amounts = chosen.map(() => Math.exp(random.normal()));
  const total = amounts.reduce((sum, amount) => sum + amount, 0);
  return grainOf(
    `grain ${seed}`,
    chosen.map((material, m) => ({ id: material.id, part: amounts[m] / total })),
    seed,
  );
}

/** A grain of given parts under drawn conditions, its materials varied as their specimens are. */
export function grainOf(name: string, parts: PaintGrain['parts'], seed: number): PaintGrain {
  const random = randomStream(seed, 8);
  const composition = new Float64Array(MAX_Z + 1);
  const add = (fractions: ArrayLike<number>, amount: number): void => {
    for (let z = 1; z < composition.length; z++) composition[z] += amount * (fractions[z] ?? 0);
  };
  const medium = 0.1 + 0.3 * random.uniform();
  for (const { id, part } of parts) add(specimenOf(materialById(id)!, random), (1 - medium) * part);
  add(massFractionsOf(pick(MEDIA, random)), medium);
  if (random.uniform() < 0.3) add(massFractionsOf(pick(TRACES, random)), 10 ** (-3 + 0.7 * random.uniform()));
  if (random.uniform() < 0.2) add(massFractionsOf(pick(SALTS, random)), 10 ** (-2.5 + 0.8 * random.uniform()));
  const total = composition.reduce((sum, value) => sum + value, 0);
  return {
    name,
    parts,
    composition: composition.map((value) => value / total),
    beamKev: pick(BEAMS_KEV, random),
    counts: Math.round(10 ** (4.7 + 1.2 * random.uniform())),
    seed,
  };
}

/** Symbols with mass fractions, as `other-physics/contents.py` reads them. */
export const massesOf = ({ composition }: PaintGrain): [string, number][] =>
  Array.from(composition.entries())
    .filter(([z, part]) => z > 1 && part > 1e-6)
    .map(([z, part]) => [symbolOf(z), part]);

/** One specimen of a material: its phases, or the elements of its one phase, within its spread; a companion now and then. */
function specimenOf({ composition, spread, companions }: Material, random: RandomStream): Float64Array {
  const varied = composition.map(({ formula, massFraction }) => ({
    formula,
    massFraction: massFraction * Math.exp(composition.length > 1 ? spread * random.normal() : 0),
  }));
  const sum = varied.reduce((all, { massFraction }) => all + massFraction, 0);
  const fractions = Float64Array.from(
    mixture(varied.map(({ formula, massFraction }) => ({ formula, massFraction: massFraction / sum }))),
  );
  if (composition.length === 1 && spread > 0)
    for (let z = 9; z < fractions.length; z++)
      if (fractions[z] > 0) fractions[z] *= Math.exp(0.5 * spread * random.normal());
  if (companions.length > 0 && random.uniform() < 0.3)
    fractions[zOf(pick(companions, random))!] += 10 ** (-3 + random.uniform());
  return fractions;
}

function drawn(random: RandomStream, year: number, classes: ReadonlySet<string>): Material {
  const pool = MATERIALS.filter((one) => classes.has(one.class) && isTelling(one) && usable(one, year) !== null);
  const total = pool.reduce((sum, { usualness }) => sum + USUAL[usualness], 0);
  let left = total * random.uniform();
  return pool.find(({ usualness }) => (left -= USUAL[usualness]) < 0) ?? pool[pool.length - 1];
}

/** The material, if it was to be had in a year. */
const usable = (material: Material, year: number): Material | null =>
  (material.firstPainting ?? material.earliest ?? -Infinity) <= year &&
  year <= (material.latest ?? Infinity) + OLD_STOCK
    ? material
    : null;

function pick<T>(from: readonly T[], random: RandomStream): T {
  return from[Math.floor(from.length * random.uniform())];
}

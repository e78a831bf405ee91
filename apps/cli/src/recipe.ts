import { MAX_Z, massFractionsOf, materialById, type BodyMaterial, type MassFractions } from '@limner/core';
import { UsageError } from './io.ts';
import { numberValue } from './values.ts';

/** A composition as written on the command line. The density is null where not every part has one. */
export interface Recipe {
  readonly composition: MassFractions;
  readonly densityGPerCm3: number | null;
}

/** What lies under or around a grain, by short names; densities g/cm3. Common practice, no source, but for the elements. */
const STUFF: Readonly<Record<string, { readonly formula: string; readonly density: number }>> = {
  resin: { formula: 'C21H24O4', density: 1.2 }, // cured epoxy, by its main constituent
  oil: { formula: 'C57H98O10', density: 1 }, // dried linseed oil, roughly
  glue: { formula: 'C5H8N2O2', density: 1.3 }, // animal glue, roughly
  carbon: { formula: 'C', density: 1.8 }, // pressed graphite
  glass: { formula: 'SiO2', density: 2.2 },
  aluminium: { formula: 'Al', density: 2.7 },
  silicon: { formula: 'Si', density: 2.33 },
};
export const STUFF_NAMES: readonly string[] = Object.keys(STUFF);

const PART = /^([^=@]+)(?:=([^=@]*))?(?:@([^=@]*))?$/;

interface Part {
  readonly name: string;
  readonly composition: MassFractions;
  readonly share: number | null;
  readonly density: number | null;
}

/**
 * Parts like 'PbO=70', 'vermilion=30@8.1' or 'resin': a formula, a material's short name of the pigment knowledge or one of
 * STUFF_NAMES; its share by mass; its density. Volumes of the parts add up.
 * @throws UsageError
 */
export function recipeOf(where: string, texts: readonly string[]): Recipe {
  const parts = texts.map((text) => partOf(where, text));
  const bare = parts.find(({ share }) => share === null);
  if (parts.length > 1 && bare !== undefined)
    throw new UsageError(`${where}: ${bare.name} needs its share by mass, like ${bare.name}=30`);
  const total = parts.reduce((sum, { share }) => sum + (share ?? 1), 0);
  let composition: MassFractions = new Float64Array(MAX_Z + 1);
  let volume = 0;
  for (const part of parts) {
    const share = (part.share ?? 1) / total;
    composition = composition.map((sum, z) => sum + share * (part.composition.at(z) ?? 0));
    volume += part.density === null ? NaN : share / part.density;
  }
  return { composition, densityGPerCm3: Number.isNaN(volume) ? null : Number((1 / volume).toPrecision(12)) };
}

/** The same with a density that must be there. @throws UsageError */
export function materialOf(where: string, texts: readonly string[]): BodyMaterial {
  const { composition, densityGPerCm3 } = recipeOf(where, texts);
  if (densityGPerCm3 === null)
    throw new UsageError(`${where}: a thickness needs densities; add them in g/cm3 to each part, like HgS@8.1`);
  return { composition, densityGPerCm3 };
}

function partOf(where: string, text: string): Part {
  const [, name = '', share, density] = PART.exec(text.trim()) ?? [];
  if (name.trim() === '')
    throw new UsageError(`${where}: '${text}' cannot be read; write FORMULA=SHARE@DENSITY, like HgS=30@8.1`);
  const known = Object.hasOwn(STUFF, name) ? STUFF[name] : undefined;
  return {
    name,
    composition: known ? massFractionsOf(known.formula) : compositionOf(where, name),
    share: share === undefined ? null : numberValue(`${where}: the share of ${name}`, share, '', 1e-6, 1e6),
    density:
      density === undefined
        ? (known?.density ?? null)
        : numberValue(`${where}: the density of ${name}`, density, 'g/cm3', 0.01, 25),
  };
}

function compositionOf(where: string, name: string): MassFractions {
  const material = materialById(name);
  if (material !== undefined) return material.fractions;
  if (/^[a-z][a-z-]*$/.test(name))
    throw new UsageError(
      `${where}: '${name}' is not a known material; give a formula, one of ${STUFF_NAMES.join(', ')}, or an id from data/pigments/materials.csv`,
    );
  try {
    return massFractionsOf(name);
  } catch (error) {
    throw new UsageError(`${where}: ${error instanceof Error ? error.message : String(error)}`, { cause: error });
  }
}

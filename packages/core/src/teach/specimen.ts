import { massFractionsOf, type MassFractions } from '../atomic/composition.ts';
import { MAX_Z } from '../atomic/elements.ts';
import type { Body } from '../emission/body/body.ts';
import { materialById } from '../pigments/knowledge.ts';
import { type BenchPart, type BenchState, BenchStateError } from './bench-state.ts';

/** Density taken for every grain of the bench, g/cm3, and what is around it: common practice, no source. */
export const GRAIN_DENSITY = 4;
const RESIN = { formula: 'C21H24O4', densityGPerCm3: 1.2 };

/** Mass fractions of a formula or of a material by its id. @throws BenchStateError */
export function compositionOfPart(of: string): MassFractions {
  const material = materialById(of);
  if (material !== undefined) return material.fractions;
  try {
    return massFractionsOf(of);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new BenchStateError(`'${of}' is neither a formula nor the id of a material. ${why}`, { cause: error });
  }
}

/** Name of a part as people say it. */
export const partName = (of: string): string => materialById(of)?.name ?? of;

/** Parts with their shares adding up to 1. */
export function sharesOf(
  parts: readonly BenchPart[],
): { readonly composition: MassFractions; readonly share: number }[] {
  const total = parts.reduce((sum, { share }) => sum + share, 0);
  return parts.map(({ of, share }) => ({ composition: compositionOfPart(of), share: share / total }));
}

/** The mixture's mass fractions. */
export function compositionOf(parts: readonly BenchPart[]): MassFractions {
  const out = new Float64Array(MAX_Z + 1);
  for (const { composition, share } of sharesOf(parts)) composition.forEach((value, z) => (out[z] += share * value));
  return out;
}

/** What the beam meets. */
export function bodyOfState({ parts, grainUm }: BenchState): Body {
  const composition = compositionOf(parts);
  if (grainUm === null) return { kind: 'bulk', composition };
  return {
    kind: 'grain',
    grain: { composition, densityGPerCm3: GRAIN_DENSITY },
    diameterUm: grainUm,
    surrounding: { composition: massFractionsOf(RESIN.formula), densityGPerCm3: RESIN.densityGPerCm3 },
    coats: [],
  };
}

/** What an explanation of the spectrum must hold: the mixture, and of a grain its surrounding. */
export function explanationOf(state: BenchState): MassFractions {
  const composition = compositionOf(state.parts);
  if (state.grainUm === null) return composition;
  const resin = massFractionsOf(RESIN.formula);
  return composition.map((value, z) => (1 - RESIN_SHARE) * value + RESIN_SHARE * resin[z]);
}

/** Share of the resin in the composition that a grain's spectrum is explained with: its amounts are fitted anyway (our choice). */
const RESIN_SHARE = 0.2;

/** The same composition without some elements, the others in proportion. */
export function withoutElements(composition: MassFractions, zs: readonly number[]): MassFractions {
  const left = composition.map((value, z) => (zs.includes(z) ? 0 : value));
  const total = left.reduce((sum, value) => sum + value, 0);
  return total > 0 ? left.map((value) => value / total) : left;
}

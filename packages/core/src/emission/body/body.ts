import { MAX_Z } from '../../atomic/elements.ts';
import type { MassFractions } from '../../atomic/composition.ts';

// What the beam meets. Angles and beam belong to the emission (body-emission.ts), not to the body.

/** A flat layer. Order in a stack: from the beam's side down. */
export interface Layer {
  /** Mass fractions that sum to 1. */
  readonly composition: MassFractions;
  /** Mass per area, g/cm2: density times thickness ({@link layerOf}); Infinity for the last layer of a stack. */
  readonly massThickness: number;
}

/** What a layer or a grain is made of. */
export interface Material {
  /** Mass fractions that sum to 1. */
  readonly composition: MassFractions;
  readonly densityGPerCm3: number;
}

/** A flat, thick, homogeneous specimen. */
export interface Bulk {
  readonly kind: 'bulk';
  readonly composition: MassFractions;
}

/** Coats and films on a thick substrate. */
export interface Stack {
  readonly kind: 'stack';
  /** From the beam's side down; the last one, and it alone, has a massThickness of Infinity. */
  readonly layers: readonly Layer[];
}

/** A round grain under the flat face of a surrounding that reaches further than the beam; the beam on its middle. */
export interface Grain {
  readonly kind: 'grain';
  readonly grain: Material;
  readonly diameterUm: number;
  /**
   * Depth of its centre, um: 0 where the polished face cuts it through the middle (when left out; also the mean of random cuts),
   * half the diameter where it lies just under the face, negative where less than half of it is left.
   */
  readonly centreDepthUm?: number;
  readonly surrounding: Material;
  /** Layers over the whole face, from the beam's side down; often one coat ({@link coat}), or none. */
  readonly coats: readonly Layer[];
}

/** What the beam meets: a thick specimen, layers on a substrate, or a cut grain in its surroundings. */
export type Body = Bulk | Stack | Grain;

/** A layer of a material. @param thicknessUm in µm */
export function layerOf({ composition, densityGPerCm3 }: Material, thicknessUm: number): Layer {
  return { composition, massThickness: densityGPerCm3 * thicknessUm * CM_PER_UM };
}

export const CM_PER_UM = 1e-4;

/** @throws RangeError naming the part of the body that makes no sense */
export function checkBody(body: Body): void {
  if (body.kind === 'bulk') checkComposition('The specimen', body.composition);
  else if (body.kind === 'stack') checkStack(body.layers);
  else checkGrain(body);
}

function checkStack(layers: readonly Layer[]): void {
  if (layers.length === 0) throw new RangeError('A stack needs at least one layer.');
  layers.forEach((layer, k) => checkLayer(`Layer ${k + 1}`, layer, k === layers.length - 1));
}

function checkGrain({ grain, diameterUm, centreDepthUm = 0, surrounding, coats }: Grain): void {
  checkMaterial('The grain', grain);
  checkMaterial('The surroundings', surrounding);
  if (!(diameterUm >= 0 && diameterUm < Infinity))
    throw new RangeError(`The grain's diameter must be 0 or more µm, not ${diameterUm}.`);
  if (!(Math.abs(centreDepthUm) <= diameterUm / 2))
    throw new RangeError(
      `The grain's centre must lie within half its diameter of the face, not at ${centreDepthUm} µm.`,
    );
  coats.forEach((layer, k) => checkLayer(`Coat ${k + 1}`, layer, false));
}

function checkLayer(what: string, { composition, massThickness }: Layer, last: boolean): void {
  checkComposition(what, composition);
  if (last && massThickness !== Infinity)
    throw new RangeError(`${what}, the last, must be thick (massThickness Infinity), not ${massThickness} g/cm2.`);
  if (!last && !(massThickness >= 0 && massThickness < Infinity))
    throw new RangeError(`${what} must have a massThickness of 0 or more g/cm2, not ${massThickness}.`);
}

function checkMaterial(what: string, { composition, densityGPerCm3 }: Material): void {
  checkComposition(what, composition);
  if (!(densityGPerCm3 > 0 && densityGPerCm3 < 30))
    throw new RangeError(`${what} must have a density of 0 to 30 g/cm3, not ${densityGPerCm3}.`);
}

function checkComposition(what: string, composition: MassFractions): void {
  const sum = composition.reduce((a, b) => a + b, 0);
  const sound =
    composition.length === MAX_Z + 1 && composition.every((value) => value >= 0) && Math.abs(sum - 1) < 1e-6;
  if (!sound) throw new RangeError(`${what} needs ${MAX_Z + 1} mass fractions of 0 or more that sum to 1.`);
}

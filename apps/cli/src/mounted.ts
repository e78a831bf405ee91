import { type Body, coat, COAT_NAMES, type BodyLayer, layerOf } from '@limner/core';
import { UsageError } from './io.ts';
import { materialOf, recipeOf } from './recipe.ts';
import { nameValue, numberValue } from './values.ts';

export interface MountedFlags {
  readonly coat?: readonly string[];
  readonly film?: string;
  readonly on?: string;
  readonly grain?: string;
  readonly in?: string;
}

/** Thickest film and largest grain, um: more is thick for every beam. */
const MOST_UM = 1000;

/**
 * What the beam meets: parts as a thick specimen, a film on something or a grain in something, each with coats over it.
 * @throws UsageError
 */
export function bodyFrom(parts: readonly string[], flags: MountedFlags): Body {
  const { film, on, grain } = flags;
  if (film !== undefined && grain !== undefined) throw new UsageError('simulate: give --film or --grain, not both');
  if (on !== undefined && film === undefined) throw new UsageError('simulate: --on needs --film');
  if (flags.in !== undefined && grain === undefined) throw new UsageError('simulate: --in needs --grain');
  const coats = (flags.coat ?? []).map(coatOf);
  if (film !== undefined) {
    const layer = layerOf(materialOf('simulate', parts), numberValue('--film', film, 'µm', 0.0001, MOST_UM));
    return { kind: 'stack', layers: [...coats, layer, thick(recipeOf('--on', listed(on ?? 'carbon')).composition)] };
  }
  if (grain !== undefined) {
    return {
      kind: 'grain',
      grain: materialOf('simulate', parts),
      diameterUm: numberValue('--grain', grain, 'µm', 0.01, MOST_UM),
      surrounding: materialOf('--in', listed(flags.in ?? 'resin')),
      coats,
    };
  }
  const { composition } = recipeOf('simulate', parts);
  if (coats.length === 0) return { kind: 'bulk', composition };
  return { kind: 'stack', layers: [...coats, thick(composition)] };
}

const listed = (text: string): string[] => text.split(',');

const thick = (composition: BodyLayer['composition']): BodyLayer => ({ composition, massThickness: Infinity });

/** 'gold:10', nm. */
function coatOf(text: string): BodyLayer {
  const [name = '', thickness, ...more] = text.split(':');
  if (thickness === undefined || more.length > 0)
    throw new UsageError(`--coat ${text}: give the material and its thickness in nm, like carbon:15`);
  return coat(nameValue('--coat', name, COAT_NAMES), numberValue('--coat', thickness, 'nm', 0, 1000));
}

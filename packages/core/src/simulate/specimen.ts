import type { MassFractions } from '../atomic/composition.ts';
import { massFractionsOf, mixture } from '../atomic/composition.ts';
import { type Body, checkBody } from '../emission/body/body.ts';

/** Mass fractions by atomic number, a formula ('2PbCO3*Pb(OH)2'), or parts of a mixture. */
export type Composition =
  MassFractions | string | readonly { readonly formula: string; readonly massFraction: number }[];

/** What the beam meets: a thick, flat, homogeneous specimen by its composition, or any body. */
export type Specimen =
  { readonly composition: Composition; readonly title?: string } | { readonly body: Body; readonly title?: string };

/** @throws RangeError or SyntaxError where the specimen makes no sense */
export function bodyOf(specimen: Specimen): Body {
  const body: Body =
    'body' in specimen ? specimen.body : { kind: 'bulk', composition: compositionOf(specimen.composition) };
  checkBody(body);
  return body;
}

/** Title where none was given. */
export function describe(specimen: Specimen): string {
  return 'composition' in specimen && typeof specimen.composition === 'string' ? specimen.composition : '';
}

function compositionOf(composition: Composition): MassFractions {
  if (typeof composition === 'string') return massFractionsOf(composition);
  return composition instanceof Float64Array ? composition : mixture(composition);
}

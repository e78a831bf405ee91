import { zOf } from '../atomic/elements.ts';
import { LIGHTEST_TELLING_Z } from './evidence.ts';
import type { Material } from './knowledge.ts';

/** A constant of the prior with its reason, as a full reading shows it. */
export interface PriorConstant {
  readonly value: number;
  readonly reason: string;
}

/**
 * What is thought of a grain before its amounts are looked at: judgements, held against grains drawn by usualness and simulated by
 * other physics (tests/statistics/README.md). Natural logarithms of odds unless the reason names a unit: -2.3 is ten times less likely.
 */
export const PRIORS = {
  part: { value: -2.5, reason: 'one more material: a grain holds a few, not many' },
  share: {
    value: 0.3,
    reason: 'share of the materials, by mass, that one of them makes up: a smaller share is less likely',
  },
  shareSpread: { value: 1.5, reason: 'standard deviation of the logarithm of such a share' },
  shareFree: {
    value: 0.5,
    reason: 'of the cost of one more material: how much the uncertainty of its share already accounts for',
  },
  common: { value: 0, reason: 'a common material' },
  occasional: { value: -2, reason: 'an occasional material, found an eighth as often as a common one' },
  rare: { value: -4.5, reason: 'a rare material, found a hundredth as often as a common one' },
  pigment: { value: 0, reason: 'a pigment' },
  ground: { value: 0, reason: 'a material used in grounds' },
  lake: { value: -0.5, reason: 'a lake: it shows little but its substrate' },
  filler: { value: -0.5, reason: 'a filler or accessory mineral' },
  metal: { value: -1.5, reason: 'a metal: leaf and powder are uncommon among grains of paint' },
  drier: { value: -2, reason: 'a drier' },
  alteration: { value: -2, reason: 'an alteration product: its parent material is more likely to be the main part' },
  contaminant: { value: -3.5, reason: 'a contaminant: only where the amounts require it' },
  unproved: {
    value: -5.5,
    reason: 'of the elements required, only carbon or chlorine is seen, which medium, salts and mounting also contain',
  },
  white: { value: 0.7, reason: 'a white pigment: more of it is used than of any colour' },
  unseen: { value: -2.5, reason: 'each required element that is not seen, or that the spectrum cannot show' },
  whitened: { value: 1.2, reason: 'white pigment with a colour, once: most colours are let down with one' },
  extended: { value: 0.7, reason: 'a ground or filler with a pigment: much paint is extended' },
  grownAlone: {
    value: -2.5,
    reason: 'contaminants and alteration products alone: what they lie on or come from is usually present too',
  },
  unpainted: {
    value: -1,
    reason:
      'several grounds and fillers alone: paint contains a pigment, a lake or a metal, but ground layers are also sampled; one alone is a grain of it',
  },
  oxideWithEarth: { value: -2, reason: 'an iron oxide with an earth, which already contains it' },
  manganeseWithEarth: { value: -2.5, reason: 'manganese oxide with an iron earth: together they are an umber' },
  oxideWithClay: { value: -2.5, reason: 'an iron oxide with clay or quartz: together they are an earth' },
  lakeWithClay: {
    value: -0.7,
    reason: 'alumina, or a lake on it, with clay, mica or feldspar, which already contain aluminium',
  },
  aluminaWithQuartz: {
    value: -1.5,
    reason: 'alumina, or a lake on it, with silica: clay, mica or feldspar contain both, and are more common',
  },
  drierTrace: { value: 0.03, reason: 'share of the materials, by mass, up to which a drier is a trace' },
  muchDrier: { value: -3, reason: 'a drier that is more than a trace' },
  leewayYears: { value: 40, reason: 'years by which dates of use are uncertain' },
  apart: { value: -0.02, reason: 'each year between the end of one material and the beginning of another' },
  mostApart: { value: -3, reason: 'the most that such years can cost: retouching and old stock occur' },
  oxygenDoubt: { value: 0.35, reason: 'relative uncertainty of an amount of oxygen: soft line, window, absorption' },
  oxygenPerCarbon: {
    value: 0.6,
    reason: 'most oxygen per carbon, by mass, that medium and mounting contribute: gum, polyester',
  },
  nitrogenBrought: {
    value: -1.4,
    reason:
      'nitrogen that no material contains: it comes with glue, egg, nitrocellulose or polyamide, in one grain in four',
  },
  nitrogenPerCarbon: {
    value: 0.36,
    reason: 'most nitrogen per carbon, by mass, that medium and mounting contribute: collagen',
  },
  mostOxygen: { value: -6, reason: 'the most that oxygen or nitrogen contained in no material can cost' },
} as const satisfies Readonly<Record<string, PriorConstant>>;

const CLASSES: Readonly<Record<string, PriorConstant | undefined>> = PRIORS;

/** Of one material in a grain, whatever goes with it. @param seen whether something is seen of an element */
export function lnPriorOf({ usualness, class: kind, hue, required }: Material, seen: (z: number) => boolean): number {
  let proved = false;
  let unseen = 0;
  for (const symbol of required) {
    const z = zOf(symbol)!;
    if (z < LIGHTEST_TELLING_Z) continue;
    if (!seen(z)) unseen++;
    else if (z !== CHLORINE) proved = true;
  }
  const whole = PRIORS.part.value + PRIORS[usualness].value + (CLASSES[kind]?.value ?? 0);
  const white = kind === 'pigment' && hue === 'white' ? PRIORS.white.value : 0;
  return whole + white + (proved ? 0 : PRIORS.unproved.value) + PRIORS.unseen.value * unseen;
}

const CHLORINE = zOf('Cl')!;

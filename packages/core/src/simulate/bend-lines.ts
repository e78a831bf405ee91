import { exp } from '../arithmetic/exponential.ts';
import { LINE_TABLE, lineAt } from '../atomic/lines.ts';
import { randomStream } from './random.ts';

/** How lines are bent; told as in Perturbation (perturb.ts). Sizes named 'measured' are own measurements on open spectra. */
export interface LineBends {
  readonly seed: number;
  /** Lines of one initial subshell and final shell against the others of their element (K-L against K-M, ...). */
  readonly lineRatio?: number;
  /** K, L and M lines of an element against each other. */
  readonly family?: number;
  /** K beta of Z 14 and below is stronger by two fifths of this to all of it; measured 0.2 to 0.5. */
  readonly mostSoftKBeta?: number;
  /** K beta of Z 19 and above lies lower, eV; measured 2.3 to 3.2 for Fe. */
  readonly mostKBetaShiftEv?: number;
  /** K beta of Z 19 and above is wider; measured 0.03 for Fe. */
  readonly mostKBetaWidth?: number;
  /** Lines below 1 keV by family: place in eV, and width. */
  readonly softShiftEv?: number;
  readonly softWidth?: number;
  /** Part of K alpha in a satellite some eV above it, three eighths of that in one farther up. */
  readonly mostSatellite?: number;
  /** Size of each radiative-Auger band. */
  readonly radiativeAuger?: number;
}

/** What becomes of the place and shape of a line. */
export interface LineShapeBend {
  readonly shiftEv: number;
  /** Factor on the whole width. */
  readonly width: number;
  /** Parts of the line that lie at other places, eV above it. */
  readonly satellites: readonly { readonly part: number; readonly aboveEv: number }[];
  /** Factor on a radiative-Auger band. */
  radiativeAuger(name: string): number;
}

const SHAPES: readonly (keyof LineBends)[] = [
  'mostKBetaShiftEv',
  'mostKBetaWidth',
  'softShiftEv',
  'softWidth',
  'mostSatellite',
  'radiativeAuger',
];

/** Whether anything but the photons of lines is bent. */
export const hasShapes = (bends: LineBends): boolean => SHAPES.some((name) => bends[name] !== undefined);

/** The bends that change shapes, alone: equal texts mean equal shapes. */
export function shapesText(bends: LineBends | undefined): string {
  return bends === undefined ? '' : JSON.stringify(['seed' as const, ...SHAPES].map((name) => bends[name] ?? null));
}

/** Purposes of draws, beside {@link BASE} and a thousand for each element; below 600 are lines by subshell and final shell. */
const OWN = {
  family: 800,
  kBeta: 810,
  shift: 811,
  width: 812,
  satellite: 813,
  KLL: 814,
  KMM: 815,
  soft: 820,
  wide: 830,
};
const BASE = 100;
const purposeOf = (z: number, own: number): number => BASE + 1000 * z + own;

/** Factor on the photons of a line of LINE_TABLE. */
export function bendLines(bends: LineBends): (index: number) => number {
  const { seed, lineRatio, family, mostSoftKBeta } = bends;
  return (index) => {
    const z = LINE_TABLE.z[index];
    const { iupac } = lineAt(index);
    const strong =
      mostSoftKBeta !== undefined && z <= SOFT_K_BETA_TO && isKBeta(iupac)
        ? 1 + mostSoftKBeta * (0.4 + 0.6 * randomStream(seed, purposeOf(z, OWN.kBeta)).uniform())
        : 1;
    return (
      factor(seed, lineRatio, groupPurpose(index, iupac)) *
      factor(seed, family, purposeOf(z, OWN.family + familyOf(index))) *
      strong
    );
  };
}

const SOFT_K_BETA_TO = 14;
const HARD_K_BETA_FROM = 19;
const SOFT_BELOW_EV = 1000;

/** Satellites of K alpha show from Na to Ti: 8 eV above it to 24 eV, and 2.3 times as far, by what fits to measured spectra allow. */
const [SATELLITE_FROM, SATELLITE_TO] = [11, 22];
const SECOND_SATELLITE = { part: 3 / 8, above: 2.3 };

export function bendShape(bends: LineBends, index: number): LineShapeBend {
  const { seed } = bends;
  const z = LINE_TABLE.z[index];
  const { iupac, energyEv } = lineAt(index);
  const kBeta = z >= HARD_K_BETA_FROM && isKBeta(iupac);
  const soft = energyEv < SOFT_BELOW_EV;
  const upTo = (most: number | undefined, own: number): number =>
    most === undefined ? 0 : most * randomStream(seed, purposeOf(z, own)).uniform();
  const family = familyOf(index);
  return {
    shiftEv:
      (soft ? spread(seed, bends.softShiftEv, purposeOf(z, OWN.soft + family)) : 0) -
      (kBeta ? upTo(bends.mostKBetaShiftEv, OWN.shift) : 0),
    width:
      (soft ? factor(seed, bends.softWidth, purposeOf(z, OWN.wide + family)) : 1) +
      (kBeta ? upTo(bends.mostKBetaWidth, OWN.width) : 0),
    satellites:
      z >= SATELLITE_FROM && z <= SATELLITE_TO && iupac.startsWith('K-L')
        ? satellites(z, upTo(bends.mostSatellite, OWN.satellite))
        : [],
    radiativeAuger: (name) => factor(seed, bends.radiativeAuger, purposeOf(z, name === 'KLL' ? OWN.KLL : OWN.KMM)),
  };
}

function satellites(z: number, part: number): LineShapeBend['satellites'] {
  if (part === 0) return [];
  const aboveEv = 8 + (16 * (z - SATELLITE_FROM)) / (SATELLITE_TO - SATELLITE_FROM);
  return [
    { part, aboveEv },
    { part: part * SECOND_SATELLITE.part, aboveEv: aboveEv * SECOND_SATELLITE.above },
  ];
}

const spread = (seed: number, sigma: number | undefined, purpose: number): number =>
  sigma === undefined ? 0 : sigma * randomStream(seed, purpose).normal();

const factor = (seed: number, sigma: number | undefined, purpose: number): number =>
  sigma === undefined ? 1 : exp(spread(seed, sigma, purpose));

const isKBeta = (iupac: string): boolean => iupac.startsWith('K-') && !iupac.startsWith('K-L');

/** 0 for K, 1 for L, 2 for M. */
function familyOf(index: number): number {
  const subshell = LINE_TABLE.subshell[index];
  return subshell === 0 ? 0 : subshell <= 3 ? 1 : 2;
}

/** A purpose of its own for each element, subshell and shell the vacancy goes to. */
function groupPurpose(index: number, iupac: string): number {
  const final = iupac.split('-')[1] ?? '';
  return purposeOf(LINE_TABLE.z[index], 50 * LINE_TABLE.subshell[index] + 'LMNOPQ'.indexOf(final[0]));
}

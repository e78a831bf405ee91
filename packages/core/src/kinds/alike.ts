import { type GrainComposition, SHARE_SYMBOLS } from './composition.ts';

/** How much shares differ from grain to grain of one material, as part of the share: common practice, no source. */
const GRAIN_SCATTER = 0.15;
/** Shares smaller than this tell no kinds apart: minor company comes and goes in one material. Common practice, no source. */
export const LEAST_SHARE = 0.01;
/** How much the medium hit with a grain differs, as a logarithm (a factor 2): common practice, no source. */
const DILUTION_SCATTER = Math.LN2;
/** Compositions are alike when nothing differs by more than this many standard uncertainties. */
export const ALIKE = 3;

/** What is compared: of a spectrum, or of a kind. */
export interface Compared extends Pick<GrainComposition, 'share' | 'counting' | 'physics' | 'dilution'> {
  /** Positions in `SHARE_SYMBOLS` of what is seen. */
  readonly at: readonly number[];
}

export interface Difference {
  /** In standard uncertainties. */
  readonly sigmas: number;
  /** The element that differs most; null when it is the part of the medium. */
  readonly symbol: string | null;
}

/**
 * The greatest difference of two compositions in standard uncertainties: counting of both, physics once (it is the same for both), and
 * the scatter among grains of one material. An element that a spectrum does not see counts with what its detection limit leaves open.
 * @param enough the search for greater ones ends beyond this
 */
export function difference(a: Compared, b: Compared, enough = Infinity): Difference {
  let [greatest, where] = [0, -1];
  const look = (i: number): void => {
    const sigmas = shareDifference(a, b, i);
    if (sigmas > greatest) [greatest, where] = [sigmas, i];
  };
  for (const i of a.at) if (greatest <= enough) look(i);
  for (const i of b.at) if (greatest <= enough && !a.at.includes(i)) look(i);
  const diluted = dilutionDifference(a.dilution, b.dilution);
  // One that sees nothing and one that does differ, however little is there.
  const blank = (a.at.length === 0) !== (b.at.length === 0);
  if (blank && greatest <= ALIKE) return { sigmas: Infinity, symbol: null };
  return diluted > greatest
    ? { sigmas: diluted, symbol: null }
    : { sigmas: greatest, symbol: SHARE_SYMBOLS[where] ?? null };
}

function shareDifference(a: Compared, b: Compared, i: number): number {
  const [x, y] = [a.share[i], b.share[i]];
  if (Number.isNaN(x) || Number.isNaN(y)) return 0;
  const counting = a.counting[i] ** 2 + b.counting[i] ** 2;
  const physics = Math.max(a.physics[i], b.physics[i]) ** 2;
  const scatter = (GRAIN_SCATTER * 0.5 * (x + y)) ** 2 + LEAST_SHARE ** 2;
  return Math.abs(x - y) / Math.sqrt(counting + physics + scatter);
}

function dilutionDifference(a: GrainComposition['dilution'], b: GrainComposition['dilution']): number {
  if (a === null || b === null) return 0;
  return Math.abs(a.value - b.value) / Math.hypot(a.sigma, b.sigma, DILUTION_SCATTER);
}

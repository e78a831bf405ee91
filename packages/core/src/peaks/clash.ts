import { expm1 } from '../arithmetic/exponential.ts';
import { atomicNumber } from '../atomic/elements.ts';
import { type Line, linesOf } from '../atomic/lines.ts';
import { edgeEv, fluorescenceYield, SUBSHELLS } from '../atomic/shells.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { FWHM_PER_SIGMA, fwhmEv, leastFwhmEv, noiseFor } from '../detector/resolution.ts';
import { ionisationCrossSection } from '../emission/electrons/cross-section.ts';
import { redistribute } from '../emission/electrons/vacancies.ts';

/** Under what conditions `clash` compares lines. */
export interface ClashOptions {
  /** Beam energy, keV; default 20. */
  readonly beamKev?: number;
  /** Resolution: FWHM at Mn K-L3 (5898.8 eV), eV; default 130. */
  readonly fwhmMnEv?: number;
}

export const CLASH_DEFAULTS = { beamKev: 20, fwhmMnEv: 130 } as const;

/** A line, with what of its unresolved neighbours of the same family comes with it. */
export interface ClashLine {
  readonly symbol: string;
  readonly line: string;
  readonly siegbahn: string | null;
  readonly energyEv: number;
  /** Estimated intensity over that of the strongest line of its family (K, L or M) of the element. */
  readonly relative: number;
}

export interface ClashPair {
  readonly a: ClashLine;
  readonly b: ClashLine;
  readonly separationEv: number;
  /** Separation over the FWHM at the pair's mean energy. */
  readonly separationFwhm: number;
  /** Factor by which the overlap widens the counting uncertainty of either line, on a dominant background. */
  readonly inflation: number;
  /** Inflation at most 2: the two lines alone can be told apart by fitting their shapes. */
  readonly separable: boolean;
}

export interface SettlingLine extends ClashLine {
  /** Beam energy above which the line is excited at all, keV. */
  readonly edgeKev: number;
  readonly excited: boolean;
}

/** Where the lines of elements coincide at given conditions, and which lines stand clear. Geometry alone: what it means is told by plan/overlap.ts. */
export interface Clash {
  readonly elements: readonly string[];
  readonly beamKev: number;
  readonly fwhmMnEv: number;
  /** Excited lines of two of them within one FWHM of each other, the strongest pair first. */
  readonly pairs: readonly ClashPair[];
  /** Lines with no line of another of them within one FWHM: excited ones first, those below 1 keV last of them, then strongest first. */
  readonly settling: readonly SettlingLine[];
}

/** Lines weaker than this part of their family's strongest are left out. */
const LEAST_RELATIVE = 0.01;
/** A family below 1 keV is left out when its strongest line has less than this part of the strongest (absorption takes most of it). */
const LEAST_SOFT = 0.05;
/** Lines below this energy drown in the noise of usual detectors, eV (B K is 183 eV). */
const LOWEST_EV = 180;
/** Below this energy lines are crowded and strongly absorbed: they settle little, eV. */
const SOFT_EV = 1000;
/** Beam energy up to which settling lines are proposed, keV: the usual limit of a scanning electron microscope. */
export const HIGHEST_BEAM_KEV = 30;
/** Lines of one family closer than this part of the FWHM count as one. */
const MERGE_FWHM = 0.25;
/** Inflation up to which two lines count as separable. */
export const SEPARABLE_INFLATION = 2;
/** Cap of the inflation, so that exact coincidence stays a number. */
const MOST_INFLATION = 1000;

/**
 * Line coincidences between two elements.
 * @throws RangeError if a symbol is unknown, both are the same, or an option makes no sense
 */
export function clash(a: string, b: string, options: ClashOptions = {}): Clash {
  return clashAmong([a, b], options);
}

/**
 * The same among two or more.
 * @throws RangeError as {@link clash} does
 */
export function clashAmong(elements: readonly string[], options: ClashOptions = {}): Clash {
  const { beamKev = CLASH_DEFAULTS.beamKev, fwhmMnEv = CLASH_DEFAULTS.fwhmMnEv } = options;
  positive('beam energy', beamKev, 'keV');
  checkResolution(fwhmMnEv);
  checkDifferent(elements);
  const lines = elements.map((symbol) => linesFor(symbol, beamKev * 1000, fwhmMnEv));
  const excited = lines.map((own) => own.filter((line) => line.excited));
  const pairs = excited
    .flatMap((own, i) => excited.slice(i + 1).flatMap((others) => pairsOf(own, others, fwhmMnEv)))
    .sort((p, q) => strength(q) - strength(p) || p.separationEv - q.separationEv);
  const settling = lines
    .flatMap((own, i) => free(own, lines.filter((_, k) => k !== i).flat(), fwhmMnEv))
    .sort(bySettlingPower);
  return { elements, beamKev, fwhmMnEv, pairs, settling };
}

function pairsOf(own: readonly SettlingLine[], others: readonly SettlingLine[], fwhmMnEv: number): ClashPair[] {
  return own
    .flatMap((a) => others.map((b) => pairOf(a, b, fwhmMnEv)))
    .filter(({ separationFwhm }) => separationFwhm <= 1);
}

function checkDifferent(elements: readonly string[]): void {
  const twice = elements.find((symbol, i) => elements.indexOf(symbol) !== i);
  if (twice !== undefined) throw new RangeError(`Two different elements are needed, not ${twice} twice.`);
  if (elements.length < 2) throw new RangeError('Two different elements are needed.');
}

/** @throws RangeError for a resolution that no silicon detector can have */
export function checkResolution(fwhmMnEv: number): void {
  positive('resolution', fwhmMnEv, 'eV');
  const least = leastFwhmEv(DEFAULT_DETECTOR);
  if (fwhmMnEv <= least)
    throw new RangeError(
      `The resolution is ${fwhmMnEv} eV; a silicon detector without any noise has ${least.toFixed(1)} eV at Mn Ka, so give more than that.`,
    );
}

/** FWHM of a silicon detector at an energy, eV, from that at Mn K-L3; below what statistics allow it counts as no noise. */
export function fwhmFromMn(energyEv: number, fwhmMnEv: number): number {
  return fwhmEv({ ...DEFAULT_DETECTOR, noiseEv: noiseFor(DEFAULT_DETECTOR, fwhmMnEv) }, energyEv);
}

/** Widening of the uncertainty of one of two overlapping lines: 1 far apart, growing without end as they close up. */
export function overlapInflation(separationFwhm: number): number {
  const inSigma = separationFwhm * FWHM_PER_SIGMA;
  return 1 / Math.sqrt(-expm1(-(inSigma ** 2) / 2));
}

/** Lines at this beam energy, and those that only a higher one excites, up to 30 keV. */
function linesFor(symbol: string, beamEv: number, fwhmMnEv: number): SettlingLine[] {
  const z = atomicNumber(symbol);
  const excited = relevantLines(z, beamEv, fwhmMnEv);
  const later = relevantLines(z, HIGHEST_BEAM_KEV * 1000, fwhmMnEv).filter(({ edgeKev }) => edgeKev * 1000 >= beamEv);
  if (excited.length + later.length === 0)
    throw new RangeError(`No line of ${symbol} is known above ${LOWEST_EV} eV, so none can coincide with it.`);
  return [
    ...excited.map((line) => ({ ...line, excited: true })),
    ...later.map((line) => ({ ...line, excited: false })),
  ];
}

/** Lines of an element that matter at this beam energy, by family; unresolved neighbours merged into the strongest. */
function relevantLines(z: number, beamEv: number, fwhmMnEv: number): Omit<SettlingLine, 'excited'>[] {
  const excited = linesOf(z).filter((line) => line.energyEv >= LOWEST_EV && edgeEv(z, line.subshell) < beamEv);
  const bright = brightness(z, beamEv);
  const weighed = excited.map((line) => ({ line, weight: bright[line.subshell] * line.relative }));
  const families = ['K', 'L', 'M'].map((family) =>
    merged(
      weighed.filter(({ line }) => line.iupac.startsWith(family)),
      fwhmMnEv,
    ),
  );
  const strongest = Math.max(...families.map(([head]) => head?.weight ?? 0));
  return families
    .filter(([head]) => head !== undefined && (head.line.energyEv > SOFT_EV || head.weight > LEAST_SOFT * strongest))
    .flatMap((heads) => heads.map(({ line, weight }) => describe(line, weight / heads[0].weight)))
    .filter(({ relative }) => relative >= LEAST_RELATIVE);
}

function describe(line: Line, relative: number): Omit<SettlingLine, 'excited'> {
  return {
    symbol: line.symbol,
    line: line.iupac,
    siegbahn: line.siegbahn,
    energyEv: line.energyEv,
    relative: Number(relative.toFixed(4)),
    edgeKev: Number((edgeEv(line.z, line.subshell) / 1000).toFixed(3)),
  };
}

interface Weighed {
  readonly line: Line;
  readonly weight: number;
}

/** Strongest first, each with the weight of the weaker lines it cannot be resolved from. */
function merged(lines: readonly Weighed[], fwhmMnEv: number): Weighed[] {
  const heads: { line: Line; weight: number }[] = [];
  for (const { line, weight } of [...lines].sort((p, q) => q.weight - p.weight)) {
    const near = MERGE_FWHM * fwhmFromMn(line.energyEv, fwhmMnEv);
    const head = heads.find((h) => Math.abs(h.line.energyEv - line.energyEv) < near);
    if (head === undefined) heads.push({ line, weight });
    else head.weight += weight;
  }
  return heads.sort((p, q) => q.weight - p.weight);
}

/** Vacancies per subshell (cross section at the beam energy, Coster-Kronig) * yield; times a branching it ranks lines. */
function brightness(z: number, beamEv: number): Float64Array {
  const vacancies = Float64Array.from(SUBSHELLS, (_, s) => ionisationCrossSection(z, s, beamEv));
  redistribute(vacancies, z);
  return vacancies.map((value, s) => value * fluorescenceYield(z, s));
}

function pairOf(a: SettlingLine, b: SettlingLine, fwhmMnEv: number): ClashPair {
  const separationEv = Number(Math.abs(a.energyEv - b.energyEv).toFixed(2));
  const separationFwhm = separationEv / fwhmFromMn((a.energyEv + b.energyEv) / 2, fwhmMnEv);
  const inflation = Number(Math.min(overlapInflation(separationFwhm), MOST_INFLATION).toFixed(2));
  return {
    a: toClashLine(a),
    b: toClashLine(b),
    separationEv,
    separationFwhm: Number(separationFwhm.toFixed(3)),
    inflation,
    separable: inflation <= SEPARABLE_INFLATION,
  };
}

function toClashLine({ symbol, line, siegbahn, energyEv, relative }: SettlingLine): ClashLine {
  return { symbol, line, siegbahn, energyEv, relative };
}

function strength({ a, b }: ClashPair): number {
  return a.relative * b.relative;
}

/** Lines of `own` that stand more than one FWHM from every line of the others excited by the same beam. */
function free(own: readonly SettlingLine[], others: readonly SettlingLine[], fwhmMnEv: number): SettlingLine[] {
  return own.filter((line) =>
    others
      .filter(({ excited }) => excited || !line.excited)
      .every(({ energyEv }) => Math.abs(line.energyEv - energyEv) > fwhmFromMn(line.energyEv, fwhmMnEv)),
  );
}

/** Excited before unexcited, above 1 keV before below, then strongest in its family, then highest energy. */
function bySettlingPower(p: SettlingLine, q: SettlingLine): number {
  const soft = (line: SettlingLine) => Number(line.energyEv < SOFT_EV);
  return (
    Number(q.excited) - Number(p.excited) || soft(p) - soft(q) || q.relative - p.relative || q.energyEv - p.energyEv
  );
}

function positive(what: string, value: number, unit: string): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new RangeError(`The ${what} is ${value} ${unit}; it must be above zero.`);
}

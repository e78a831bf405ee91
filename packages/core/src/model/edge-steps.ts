import { exp, log } from '../arithmetic/exponential.ts';
import { massAttenuation } from '../atomic/attenuation.ts';
import { edgeEv, SUBSHELLS } from '../atomic/shells.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import { channelOf, lineResponse, type Instrument } from './instrument.ts';
import type { Family } from './groups.ts';
import { columnFrom, type Column } from './column.ts';
import { stretch } from '../arithmetic/stretch.ts';

/**
 * Steps of the continuum at the absorption edges of an element of the specimen. The model's own are those of one even, thick matter; a film on
 * another phase, a coat, grains side by side have them higher or lower, and a smooth factor cannot follow.
 */

/**
 * One standard uncertainty of a step, as a change of ln(continuum), of a shell whose lines hold `fullAt` times the continuum counts within
 * one FWHM at the edge, or more: one even matter may stand for grains side by side, or for a film. What is weaker absorbs less in proportion.
 * Sizes: the smallest that took the false elements off films of ZnS on silicon (5 keV, second forward model) and lost none of the measured spectra.
 */
export const EDGE_STEP = { sigma: 0.15, fullAt: 5 } as const;

/** Steps of one shell of an element. */
export interface EdgeSteps {
  readonly family: Family;
  /** Relative change of the continuum when the optical depth of the element grows by 1 at the shell's greatest jump, less its smooth part. */
  readonly column: Column;
  /** Channel of the greatest jump, and FWHM there in channels. */
  readonly at: number;
  readonly fwhm: number;
}

/** A step fades on both sides over this distance, in ln(energy): what goes on beyond is smooth, and left to the splines. */
const FADES_OVER = 0.5;
/** Below are the noise edge and the edges of the window. */
const LOWEST_EV = 250;
/** Jumps of less than this part of the shell's greatest are left out. */
const LEAST_JUMP = 0.05;
/** How far from an edge attenuation is read, relative: beyond the pair of points that the table has there. */
const BESIDE = 0.002;
/** A logistic curve of this steepness lies within 1 % of the Gaussian's integral. */
const LOGISTIC = 1.702;
/** Shells: places of their subshells in SUBSHELLS. */
const SHELLS = (['K', 'L', 'M'] as const).map((family) => ({
  family,
  subshells: SUBSHELLS.flatMap((name, s) => (name[0] === family ? [s] : [])),
}));

/** One for each shell with edges in the range. @param lo @param hi fitted channels */
export function edgeSteps(z: number, instrument: Instrument, lo: number, hi: number): EdgeSteps[] {
  const { axis } = instrument;
  const lowest = Math.max(LOWEST_EV, axis.offsetEv + axis.gainEv * lo);
  const highest = axis.offsetEv + axis.gainEv * (hi - 1);
  const steps: EdgeSteps[] = [];
  for (const { family, subshells } of SHELLS) {
    const edges = edgesBetween(z, subshells, lowest, highest);
    const greatest = edges.reduce((most, { jump }) => Math.max(most, jump), 0);
    const told = edges.filter(({ jump }) => jump > LEAST_JUMP * greatest);
    if (told.length === 0) continue;
    const from = Math.max(
      lo,
      Math.floor(channelOf(axis, Math.min(...told.map(({ edge }) => edge)) * exp(-FADES_OVER))),
    );
    const to = Math.min(hi, Math.ceil(channelOf(axis, Math.max(...told.map(({ edge }) => edge)) * exp(FADES_OVER))));
    const out = stretch(Math.max(0, to - from)).fill(0);
    for (const { edge, jump } of told) addStep(out, from, edge, jump / greatest, instrument);
    const { edge } = told.find(({ jump }) => jump === greatest)!;
    const fwhm = (lineResponse(instrument, edge).sigmaEv * FWHM_PER_SIGMA) / axis.gainEv;
    steps.push({ family, column: columnFrom(out, from), at: Math.round(channelOf(axis, edge)), fwhm });
  }
  return steps;
}

/** Edges of subshells between two energies, eV, with the jump of the attenuation there, cm2/g. */
function edgesBetween(
  z: number,
  subshells: readonly number[],
  lowest: number,
  highest: number,
): { readonly edge: number; readonly jump: number }[] {
  const edges: { readonly edge: number; readonly jump: number }[] = [];
  for (const s of subshells) {
    const edge = edgeEv(z, s);
    if (edge > lowest && edge < highest)
      edges.push({ edge, jump: massAttenuation(z, edge * (1 + BESIDE)) - massAttenuation(z, edge * (1 - BESIDE)) });
  }
  return edges;
}

/** Adds one step, up by half below the edge and down by half above it, fading to both sides. */
function addStep(out: Float64Array, from: number, edge: number, height: number, instrument: Instrument): void {
  const { axis } = instrument;
  const { sigmaEv } = lineResponse(instrument, edge);
  for (let i = 0; i < out.length; i++) {
    const energy = axis.offsetEv + axis.gainEv * (from + i);
    const fading = 1 - Math.abs(log(energy / edge)) / FADES_OVER;
    if (!(energy > 0) || fading <= 0) continue;
    const above = 1 / (1 + exp((-LOGISTIC * (energy - edge)) / sigmaEv));
    out[i] += height * fading * (0.5 - above);
  }
}

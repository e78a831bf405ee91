import { log } from '../arithmetic/exponential.ts';
import { addScaled, type Column } from './column.ts';
import { peakDiscrepancies, type PeakDiscrepancy } from './discrepancy.ts';
import { familySigma, type Family } from './groups.ts';
import { responseDoubt, type Instrument, type ResponseDoubt } from './instrument.ts';
import type { Believed, RatioBelief, SharedArtefact } from './instrument-knowledge.ts';
import type { Orthogonaliser } from './orthogonaliser.ts';
import type { RadiativeAugerBand } from './radiative-auger.ts';
import { lifted, slate } from './slate.ts';
import type { ElementTemplate, GroupTemplate } from './templates.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';

/**
 * A direction in which the model may be wrong: a column whose coefficient has a Gaussian prior.
 * `owner` is the element (Z) whose peaks it bends, 0 when it belongs to the instrument.
 */
export interface Nuisance {
  readonly kind: NuisanceKind;
  readonly owner: number;
  readonly label: string;
  readonly column: Column;
  readonly mean: number;
  readonly sigma: number;
}

export type NuisanceKind =
  | 'shift'
  | 'width'
  | 'near-tail'
  | 'far-tail'
  | 'group-ratio'
  | 'family-ratio'
  | 'radiative-auger'
  | 'discrepancy'
  | 'offset'
  | 'gain'
  | 'noise'
  | 'fano';

/** An element of the current explanation with its amount and its groups. */
export interface Member {
  readonly template: ElementTemplate;
  readonly groups: readonly GroupTemplate[];
  readonly bands: readonly RadiativeAugerBand[];
  readonly amount: number;
  /** Heights of the groups as fitted last, relative to what the amount gives; aligned with them. */
  readonly heights: readonly number[];
}

/** A nuisance that cannot move the fit by this many standard deviations of the counts is left out. */
export const WORTHWHILE = 0.3;

/** Uncertainty of a usually leading group (Kα, Lα, Mα) where another one leads, relative. */
const UNLED_SIGMA = 0.1;

/**
 * Local nuisances of one member: position, width and tails of each strong group, ratios between groups and families.
 * @param n channels of the axis
 * @param taught ratios that known materials have told, in place of the usual doubt
 */
export function memberNuisances(
  member: Member,
  instrument: Instrument,
  orthogonal: Orthogonaliser,
  n: number,
  taught: readonly RatioBelief[] = [],
): Nuisance[] {
  const { template, groups, bands, amount, heights } = member;
  const out: Nuisance[] = [];
  const lead = leadingGroups(groups);
  const offered: Offer = { template, orthogonal, taught, out };
  for (let g = 0; g < groups.length; g++) {
    const { group, column, derivatives, energyEv } = groups[g];
    const doubt = groupDoubt(group, energyEv);
    const height = amount * heights[g];
    offer(offered, 'shift', group.name, derivatives.shift, height, doubt.shiftEv);
    offer(offered, 'width', group.name, derivatives.width, height, doubt.width);
    offer(offered, 'near-tail', group.name, derivatives.near, height, doubt.near);
    offer(offered, 'far-tail', group.name, derivatives.far, height, doubt.far);
    if (lead.get(group.family) !== group.name)
      offer(offered, 'group-ratio', group.name, column, amount, group.sigma || UNLED_SIGMA);
  }
  for (const { name, column, sigma } of bands) offer(offered, 'radiative-auger', name, column, amount, sigma);
  for (let g = 0; g < groups.length; g++)
    addDiscrepancies(offered, peakDiscrepancies(groups[g], amount * heights[g], instrument, n));
  const families = [...lead.keys()];
  for (const family of families.slice(1)) {
    const sum = slate(n);
    for (const { group, column } of groups) if (group.family === family) addScaled(sum, column, 1);
    const sigma =
      familySigma(family, template.z) *
      asRatio(heightOf(member, lead.get(family)) / heightOf(member, lead.get(families[0])));
    offer(offered, 'family-ratio', `${family} to ${families[0]}`, lifted(sum), amount, sigma);
  }
  return out;
}

/** Height of a group by its name; NaN where there is none. */
function heightOf({ groups, heights }: Member, name: string | undefined): number {
  for (let g = 0; g < groups.length; g++) if (groups[g].group.name === name) return heights[g];
  return NaN;
}

/** Where the nuisances of one element are offered, and go to where they are worthwhile. */
interface Offer {
  readonly template: ElementTemplate;
  readonly orthogonal: Orthogonaliser;
  readonly taught: readonly RatioBelief[];
  readonly out: Nuisance[];
}

function offer(
  { template, orthogonal, taught, out }: Offer,
  kind: NuisanceKind,
  label: string,
  whole: Column,
  factor: number,
  sigma: number,
): void {
  if (!(sigma * Math.sqrt(orthogonal.information(whole, factor, template.column)) > WORTHWHILE)) return;
  const column = orthogonal.column(whole, factor, template.column);
  const known = taught.find((ratio) => ratio.z === template.z && ratio.kind === kind && ratio.label === label);
  out.push({ kind, owner: template.z, label, column, mean: known?.mean ?? 0, sigma: known?.sigma ?? sigma });
}

function addDiscrepancies({ template, orthogonal, out }: Offer, discrepancies: readonly PeakDiscrepancy[]): void {
  for (const { label, column: whole } of discrepancies) {
    if (!(Math.sqrt(orthogonal.informationOf(whole, template.column)) > WORTHWHILE)) continue;
    const column = orthogonal.freed(whole, template.column);
    out.push({ kind: 'discrepancy', owner: template.z, label, column, mean: 0, sigma: 1 });
  }
}

/**
 * By how much an uncertainty of a ratio that was last found to be `ratio` times the expected one is wider than that of one as expected: what makes
 * soft lines stand higher (a film, a grain on something else, a facet) multiplies, so that its logarithm has the uncertainty. Up to a bound, lest a
 * family that is not there at all cost little.
 */
function asRatio(ratio: number): number {
  return ratio > 1 ? Math.min(WIDEST, (ratio - 1) / log(ratio)) : 1;
}

/** Reached where the ratio is 3.5 times the expected one. */
const WIDEST = 2;

/**
 * K beta of Z >= 19 lies where the chemical bond puts it and is wider than one line: 2.3 to 3.2 eV low and 3 % wider in steels (measured).
 */
const K_BETA = { firstZ: 19, shiftEv: 2, width: 0.03 } as const;

function groupDoubt({ z, name, family }: GroupTemplate['group'], energyEv: number): ResponseDoubt {
  const doubt = responseDoubt(family, energyEv);
  if (name !== 'Kβ' || z < K_BETA.firstZ) return doubt;
  return { ...doubt, shiftEv: Math.hypot(doubt.shiftEv, K_BETA.shiftEv), width: Math.hypot(doubt.width, K_BETA.width) };
}

/** A family of less than this share of the element's counts says too little to set the amount. */
const ANCHOR_SHARE = 0.03;

/**
 * Leading group of each family. First comes the family whose physics is known best (K before L before M) among those
 * with a fair share of the counts: it sets the amount, and each other family may differ from it.
 */
function leadingGroups(groups: readonly GroupTemplate[]): Map<Family, string> {
  const total = new Map<Family, number>();
  const best = new Map<Family, GroupTemplate>();
  let sum = 0;
  for (const template of groups) {
    const { family } = template.group;
    total.set(family, (total.get(family) ?? 0) + template.area);
    sum += template.area;
    if (!best.has(family) || template.area > best.get(family)!.area) best.set(family, template);
  }
  const lead = new Map<Family, string>();
  for (const isFair of [true, false]) {
    for (const family of ['K', 'L', 'M'] as const) {
      const strongest = best.get(family);
      if (strongest && total.get(family)! >= ANCHOR_SHARE * sum === isFair) lead.set(family, strongest.group.name);
    }
  }
  return lead;
}

/** What the fit knows of the instrument beforehand: standard uncertainties and where the prior sits from here. */
export interface InstrumentPrior {
  /** Move of the axis at the pivot, eV, and of its gain about the pivot, relative. */
  readonly offset: Believed;
  readonly gain: Believed;
  readonly noise: Believed;
  readonly fano: Believed;
  /** Energy where position and gain are independent, eV; that of channel 0 when absent. */
  readonly pivotEv?: number;
  readonly artefacts?: Readonly<Partial<Record<SharedArtefact, Believed>>>;
  readonly ratios?: readonly RatioBelief[];
}

/** Instrument-wide nuisances: position at the pivot (eV), gain about it (relative), noise (eV FWHM) and Fano factor (relative). */
export function instrumentNuisances(
  members: readonly Member[],
  instrument: Instrument,
  prior: InstrumentPrior,
  orthogonal: Orthogonaliser,
  n: number,
): Nuisance[] {
  const { detector, axis } = instrument;
  const sums = fourSlates(n);
  for (const { template, groups, amount, heights } of members) {
    const own = fourSlates(n);
    for (let g = 0; g < groups.length; g++) {
      const { derivatives, energyEv, column } = groups[g];
      const fano = 8 * Math.LN2 * detector.fano * detector.pairEv * energyEv;
      const fwhmSquared = detector.noiseEv ** 2 + fano;
      // A larger offset moves the same energy to a lower channel: the opposite of a larger line energy.
      const { shift, width } = derivatives;
      addWithin(own.offset, shift, -heights[g], column);
      addGain(own.gain, shift, column, heights[g], axis, prior.pivotEv ?? axis.offsetEv);
      addWithin(own.noise, width, (heights[g] * detector.noiseEv) / fwhmSquared, column);
      addWithin(own.fano, width, (heights[g] * 0.5 * fano) / fwhmSquared, column);
    }
    for (const key of ['offset', 'gain', 'noise', 'fano'] as const) {
      const { lo, hi } = template.column;
      addScaled(sums[key], orthogonal.column(lifted(own[key], lo, hi), amount, template.column), 1);
    }
  }
  return (['offset', 'gain', 'noise', 'fano'] as const).map((kind) => ({
    kind,
    owner: 0,
    label: kind,
    column: lifted(sums[kind]),
    mean: prior[kind].mean,
    sigma: prior[kind].sigma,
  }));
}

const fourSlates = (n: number): Record<'offset' | 'gain' | 'noise' | 'fano', Float64Array> => ({
  offset: slate(n),
  gain: slate(n),
  noise: slate(n),
  fano: slate(n),
});

/** out += factor * column in the channels of another column. */
function addWithin(out: Float64Array, { values, lo, hi }: Column, factor: number, within: Column): void {
  const end = Math.min(hi, within.hi);
  for (let i = Math.max(lo, within.lo); i < end; i++) out[i] += factor * values[i - lo];
}

/**
 * out += height * change of a group by a relative change of the gain about the pivot. Each channel moves by its own distance from the pivot, so
 * an escape peak moves by its own energy and not by that of its line; a channel that grows takes more counts.
 */
function addGain(
  out: Float64Array,
  shift: Column,
  column: Column,
  height: number,
  { offsetEv, gainEv }: EnergyAxis,
  pivotEv: number,
): void {
  const end = Math.min(shift.hi, column.hi);
  for (let i = Math.max(shift.lo, column.lo); i < end; i++) {
    const fromPivot = offsetEv + gainEv * i - pivotEv;
    out[i] += height * (column.values[i - column.lo] - shift.values[i - shift.lo] * fromPivot);
  }
}

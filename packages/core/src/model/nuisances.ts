import type { Column } from './column.ts';
import { addScaled, columnOf, information } from './column.ts';
import { peakDiscrepancies } from './discrepancy.ts';
import { familySigma, type Family } from './groups.ts';
import { responseDoubt, type Instrument, type ResponseDoubt } from './instrument.ts';
import type { Believed, RatioBelief, SharedArtefact } from './instrument-knowledge.ts';
import type { RadiativeAugerBand } from './radiative-auger.ts';
import type { ElementTemplate, GroupTemplate } from './templates.ts';

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
}

/** A nuisance that cannot move the fit by this many standard deviations of the counts is left out. */
export const WORTHWHILE = 0.2;

/** Uncertainty of a usually leading group (Kα, Lα, Mα) where another one leads, relative. */
const UNLED_SIGMA = 0.1;

/**
 * Local nuisances of one member: position, width and tails of each strong group, ratios between groups and families.
 * @param taught ratios that known materials have told, in place of the usual doubt
 */
export function memberNuisances(
  member: Member,
  instrument: Instrument,
  orthogonal: Orthogonaliser,
  taught: readonly RatioBelief[] = [],
): Nuisance[] {
  const { template, groups, bands, amount } = member;
  const out: Nuisance[] = [];
  const lead = leadingGroups(groups);
  const offer = (kind: NuisanceKind, label: string, values: Float64Array, factor: number, sigma: number): void => {
    if (sigma * Math.sqrt(orthogonal.information(values, factor, template.column)) > WORTHWHILE) {
      const column = orthogonal.column(values, factor, template.column);
      const known = taught.find((ratio) => ratio.z === template.z && ratio.kind === kind && ratio.label === label);
      out.push({ kind, owner: template.z, label, column, mean: known?.mean ?? 0, sigma: known?.sigma ?? sigma });
    }
  };
  for (const { group, column, derivatives, energyEv } of groups) {
    const doubt = groupDoubt(group, energyEv);
    offer('shift', group.name, derivatives.shift, amount, doubt.shiftEv);
    offer('width', group.name, derivatives.width, amount, doubt.width);
    offer('near-tail', group.name, derivatives.near, amount, doubt.near);
    offer('far-tail', group.name, derivatives.far, amount, doubt.far);
    if (lead.get(group.family) !== group.name) {
      offer('group-ratio', group.name, column.values, amount, group.sigma || UNLED_SIGMA);
    }
  }
  for (const { name, column, sigma } of bands) offer('radiative-auger', name, column.values, amount, sigma);
  for (const group of groups) {
    for (const { label, column } of peakDiscrepancies(group, amount, instrument, template.column.values.length)) {
      if (Math.sqrt(orthogonal.informationOf(column, template.column)) > WORTHWHILE)
        out.push({
          kind: 'discrepancy',
          owner: template.z,
          label,
          column: orthogonal.freed(column, template.column),
          mean: 0,
          sigma: 1,
        });
    }
  }
  const families = [...lead.keys()];
  for (const family of families.slice(1)) {
    const values = new Float64Array(template.column.values.length);
    for (const { group, column } of groups) {
      if (group.family !== family) continue;
      for (let i = column.lo; i < column.hi; i++) values[i] += column.values[i];
    }
    offer('family-ratio', `${family} to ${families[0]}`, values, amount, familySigma(family, template.z));
  }
  return out;
}

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
  const order = (family: Family): number => (total.get(family)! < ANCHOR_SHARE * sum ? 3 : 0) + 'KLM'.indexOf(family);
  return new Map(
    [...best.keys()].sort((a, b) => order(a) - order(b)).map((family) => [family, best.get(family)!.group.name]),
  );
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
  const sums = { offset: zeros(n), gain: zeros(n), noise: zeros(n), fano: zeros(n) };
  for (const { template, groups, amount } of members) {
    const own = { offset: zeros(n), gain: zeros(n), noise: zeros(n), fano: zeros(n) };
    for (const { derivatives, energyEv, column } of groups) {
      const fano = 8 * Math.LN2 * detector.fano * detector.pairEv * energyEv;
      const fwhmSquared = detector.noiseEv ** 2 + fano;
      // A larger offset moves the same energy to a lower channel: the opposite of a larger line energy.
      const gainFactor = (prior.pivotEv ?? axis.offsetEv) - energyEv;
      for (let i = column.lo; i < column.hi; i++) {
        own.offset[i] -= derivatives.shift[i];
        own.gain[i] += gainFactor * derivatives.shift[i];
        own.noise[i] += (detector.noiseEv / fwhmSquared) * derivatives.width[i];
        own.fano[i] += ((0.5 * fano) / fwhmSquared) * derivatives.width[i];
      }
    }
    for (const key of ['offset', 'gain', 'noise', 'fano'] as const) {
      const column = orthogonal.column(own[key], amount, template.column);
      for (let i = column.lo; i < column.hi; i++) sums[key][i] += column.values[i];
    }
  }
  return (['offset', 'gain', 'noise', 'fano'] as const).map((kind) => ({
    kind,
    owner: 0,
    label: kind,
    column: columnOf(sums[kind]),
    mean: prior[kind].mean,
    sigma: prior[kind].sigma,
  }));
}

const zeros = (n: number): Float64Array => new Float64Array(n);

/**
 * Makes nuisance columns orthogonal, in the fit's metric, to the template of the element they bend. Otherwise tails,
 * widths and ratios together could rebuild the peak when its element is left out, and no element would ever be required.
 */
export interface Orthogonaliser {
  /** factor × (values less their projection on the template); values outside the template's runs are left out. */
  column(values: Float64Array, factor: number, template: Column): Column;
  /** Weighted sum of squares of that column, without making it: 1 / variance of its coefficient on its own. */
  information(values: Float64Array, factor: number, template: Column): number;
  /** A column less its projection on the template; what lies outside the template's runs stays. */
  freed(column: Column, template: Column): Column;
  /** Weighted sum of squares of that column. */
  informationOf(column: Column, template: Column): number;
}

/** @param weights 1 / variance per channel, used over [lo, hi) */
export function orthogonaliser(weights: Float64Array, lo: number, hi: number): Orthogonaliser {
  const products = (values: Float64Array, { values: t, runs }: Column): { vv: number; vt: number; tt: number } => {
    let [vv, vt, tt] = [0, 0, 0];
    for (let r = 0; r < runs.length; r += 2) {
      for (let i = Math.max(lo, runs[r]); i < Math.min(hi, runs[r + 1]); i++) {
        const w = weights[i];
        const [v, s] = [values[i], t[i]];
        vv += w * v * v;
        vt += w * v * s;
        tt += w * s * s;
      }
    }
    return { vv, vt, tt };
  };
  return {
    freed(column, template) {
      const { vt, tt } = products(column.values, template);
      if (!(tt > 0) || vt === 0) return column;
      const out = column.values.slice();
      addScaled(out, template, -vt / tt);
      return columnOf(out);
    },
    informationOf(column, template) {
      const { vt, tt } = products(column.values, template);
      return Math.max(0, information(column, weights, lo, hi) - (tt > 0 ? (vt * vt) / tt : 0));
    },
    column(values, factor, template) {
      const { vt, tt } = products(values, template);
      const share = tt > 0 ? vt / tt : 0;
      const out = new Float64Array(values.length);
      const { values: t, runs } = template;
      for (let r = 0; r < runs.length; r += 2) {
        for (let i = runs[r]; i < runs[r + 1]; i++) out[i] = factor * (values[i] - share * t[i]);
      }
      return columnOf(out);
    },
    information(values, factor, template) {
      const { vv, vt, tt } = products(values, template);
      return factor * factor * Math.max(0, tt > 0 ? vv - (vt * vt) / tt : vv);
    },
  };
}

import type { MassFractions } from '../atomic/composition.ts';
import type { Emission } from '../emission/thick/characteristic.ts';
import { addSmoothness, backgroundColumns } from '../model/background.ts';
import { partnerColumn, selfConvolution, shelfColumn } from '../model/coincidence.ts';
import { columnOf } from '../model/column.ts';
import { detectorSiliconColumn } from '../model/detector-silicon.ts';
import { continuumDoubts, detectedContinuum } from '../model/continuum.ts';
import { channelEnergies, channelOf, type Instrument } from '../model/instrument.ts';
import {
  instrumentNuisances,
  memberNuisances,
  orthogonaliser,
  type InstrumentPrior,
  type Member,
  type Nuisance,
} from '../model/nuisances.ts';
import {
  elementTemplate,
  groupTemplates,
  lineAreas,
  radiativeAugerTemplate,
  type ElementTemplate,
} from '../model/templates.ts';
import type { FitRange } from '../peaks/fit-range.ts';
import type { Prior } from './eliminate.ts';
import { Layout, type ArtefactColumn } from './layout.ts';

/** What stays fixed while a spectrum is fitted. */
export interface Scene {
  readonly counts: Float64Array;
  readonly range: FitRange;
  readonly emission: Emission;
}

/** Where the model is made linear: its columns are those of this instrument, matrix and expectation. */
export interface Expansion {
  readonly instrument: Instrument;
  readonly composition: MassFractions;
  readonly prior: InstrumentPrior;
  /** Expected counts per channel, > 0: shape of pile-up and shelf, and weights. */
  readonly model: Float64Array;
  /** Coefficient level of the background in units of the physical continuum. */
  readonly backgroundLevel: number;
  /** Continuum counts; null when not known yet. */
  readonly background: Float64Array | null;
}

/** The linear model around a point. */
export interface Design {
  /** Detected area of every line per unit amount, LINE_TABLE order. */
  readonly areas: Float64Array;
  readonly layout: Layout;
  /** Prior of everything but the amounts. */
  readonly prior: Prior;
}

/** Smallest expected counts a channel's weight is made of. */
const MIN_EXPECTED = 0.2;
/** Flat shelf: 1.3 ± 0.7 % of the counts (fits to measured spectra of five instruments). */
export const SHELF = { mean: 0.013, sigma: 0.007 };
/** Silicon peak of the detector itself in units of what its layers give: dead layers vary by a factor of two. */
export const DETECTOR_SILICON = { mean: 1, sigma: 0.8 };
/** Sum peaks: fraction of the counts, from nothing to some per cent with the rate. */
const PILE_UP = { mean: 0.003, sigma: 0.015 };
/** A line below 1 keV piles up by its own fraction (the fast channel is blind to it) and lands within 10 eV. */
const SOFT_PARTNER = {
  below: 1000,
  minCounts: 2000,
  fraction: { mean: 0, sigma: 0.01 },
  shift: { mean: 0, sigma: 10 * PILE_UP.mean },
};

/**
 * Columns and priors of the model around a point.
 * @param zs elements with a template each
 * @param doubted amounts, aligned with zs: elements with amounts above 0 get nuisances of their own
 * @param weights 1 / variance per channel: nuisances are made orthogonal in this metric
 */
export function designOf(
  scene: Scene,
  zs: readonly number[],
  at: Expansion,
  doubted: Float64Array,
  weights: Float64Array,
): Design {
  const n = scene.counts.length;
  const areas = lineAreas(scene.emission.lines(at.composition, wantedOf(zs)), at.instrument, zs);
  const templates = zs.map((z) => elementTemplate(z, areas, at.instrument, n));
  const members = membersOf(templates, areas, doubted, at.instrument, n);
  const artefacts = artefactColumns(scene, at, members);
  const layout = new Layout(templates, artefacts, nuisancesOf(scene, at, members, weights));
  return { areas, layout, prior: priorOf(layout, at.backgroundLevel) };
}

/** 1 / variance per channel, with a relative model error beside counting. */
export function weightsOf(model: Float64Array, relativeError: number, lo: number, hi: number): Float64Array {
  const weights = new Float64Array(model.length);
  for (let i = lo; i < hi; i++) {
    const m = Math.max(model[i], MIN_EXPECTED);
    weights[i] = 1 / (m + (relativeError * m) ** 2);
  }
  return weights;
}

/** Expected counts of a model's coefficients, kept above 0 inside the range and 0 outside. */
export function expectedCounts(
  { layout }: Design,
  coefficients: Float64Array,
  { counts, range: { lo, hi } }: Pick<Scene, 'counts' | 'range'>,
): Float64Array {
  const model = layout.expected(coefficients, counts.length);
  for (let i = 0; i < model.length; i++) model[i] = i < lo || i >= hi ? 0 : Math.max(model[i], MIN_EXPECTED / 10);
  return model;
}

function wantedOf(zs: readonly number[]): Uint8Array {
  const wanted = new Uint8Array(99);
  for (const z of zs) wanted[z] = 1;
  return wanted;
}

function membersOf(
  templates: readonly ElementTemplate[],
  areas: Float64Array,
  amounts: Float64Array,
  instrument: Instrument,
  n: number,
): Member[] {
  return templates.flatMap((template, e) =>
    amounts[e] > 0
      ? [
          {
            template,
            amount: amounts[e],
            groups: groupTemplates(template.z, areas, instrument, n),
            radiativeAuger: radiativeAugerTemplate(template.z, areas, instrument, n),
          },
        ]
      : [],
  );
}

function artefactColumns(scene: Scene, at: Expansion, members: readonly Member[]): ArtefactColumn[] {
  const { lo, hi } = scene.range;
  const n = scene.counts.length;
  const { axis } = at.instrument;
  const zero = channelOf(axis, 0);
  const energies = channelEnergies(axis, n);
  const detected = detectedContinuum(scene.emission, at.composition, at.instrument, n, lo, hi);
  const continuum = detected.counts;
  const background = at.background ?? continuum.map((value) => value * at.backgroundLevel);
  const measured = at.model;
  const told = at.prior.artefacts ?? {};
  return [
    ...backgroundColumns(continuum, energies, lo, hi).map((column): ArtefactColumn => ({
      name: 'background',
      column,
      prior: null,
    })),
    ...continuumDoubts(background, detected, lo, hi).map((column): ArtefactColumn => ({
      name: 'continuum doubt',
      column,
      prior: { mean: 0, sigma: 1 },
    })),
    { name: 'charge shelf', column: shelfColumn(measured, lo, hi, zero), prior: told['charge shelf'] ?? SHELF },
    {
      name: 'detector silicon',
      column: detectorSiliconColumn(measured, lo, hi, at.instrument),
      prior: told['detector silicon'] ?? DETECTOR_SILICON,
    },
    {
      name: 'sum peaks',
      column: columnOf(selfConvolution(measured, lo, zero)),
      prior: told['sum peaks'] ?? PILE_UP,
    },
    ...softPartnerColumns(members, measured, lo, zero),
  ];
}

function softPartnerColumns(
  members: readonly Member[],
  model: Float64Array,
  lo: number,
  zero: number,
): ArtefactColumn[] {
  const out: ArtefactColumn[] = [];
  for (const { groups, amount } of members) {
    for (const group of groups) {
      if (group.energyEv > SOFT_PARTNER.below || group.area * amount < SOFT_PARTNER.minCounts) continue;
      const counts = group.column.values.map((value) => value * amount);
      const slope = group.derivatives.shift.map((value) => value * amount);
      out.push({ name: 'sum peaks', column: partnerColumn(counts, model, lo, zero), prior: SOFT_PARTNER.fraction });
      out.push({ name: 'sum peaks', column: partnerColumn(slope, model, lo, zero), prior: SOFT_PARTNER.shift });
    }
  }
  return out;
}

function nuisancesOf(scene: Scene, at: Expansion, members: readonly Member[], weights: Float64Array): Nuisance[] {
  const { lo, hi } = scene.range;
  const orthogonal = orthogonaliser(weights, lo, hi);
  return [
    ...instrumentNuisances(members, at.instrument, at.prior, orthogonal, scene.counts.length),
    ...members.flatMap((member) => memberNuisances(member, orthogonal, at.prior.ratios)),
  ];
}

function priorOf(layout: Layout, level: number): Prior {
  const q = layout.eliminated;
  const precision = new Float64Array(q * q);
  const precisionMean = new Float64Array(q);
  const set = (index: number, { mean, sigma }: { readonly mean: number; readonly sigma: number }): void => {
    const i = layout.placeEliminated(index);
    precision[i * q + i] += 1 / sigma ** 2;
    precisionMean[i] = mean / sigma ** 2;
  };
  addSmoothness(precision, q, 0, layout.splineCount, level);
  layout.artefacts.forEach(({ prior }, i) => {
    if (prior) set(layout.artefact(i), prior);
  });
  layout.nuisances.forEach((nuisance, i) => set(layout.nuisance(i), nuisance));
  return { precision, precisionMean };
}

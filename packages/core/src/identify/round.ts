import type { MassFractions } from '../atomic/composition.ts';
import { cash } from '../fit/cash.ts';
import { eliminate, eliminatedAt, type Prior } from '../fit/eliminate.ts';
import { normalEquations } from '../fit/normal.ts';
import { addSmoothness, backgroundColumns } from '../model/background.ts';
import { partnerColumn, selfConvolution, shelfColumn } from '../model/coincidence.ts';
import { addScaled, columnOf } from '../model/column.ts';
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
import { ownColumnsOf, searchOwned } from './own-doubts.ts';
import type { ArtefactColumn, Frame, Round } from './state.ts';

/** What a round starts from: the instrument, composition and explanation of the round before. */
export interface RoundStart {
  readonly instrument: Instrument;
  readonly composition: MassFractions;
  readonly prior: InstrumentPrior;
  /** Expected counts of the round before (smoothed data in the first), > 0. */
  readonly model: Float64Array;
  /** Amount of each candidate in the round before, 0 outside its explanation: where the search starts. */
  readonly amounts: Float64Array;
  /** Amounts whose lines get nuisances: of the last two rounds, lest two sets take turns, each missing the other's doubts. */
  readonly doubted: Float64Array;
  /** Coefficient level of the background in units of the physical continuum. */
  readonly backgroundLevel: number;
  /** Continuum counts of the round before; null in the first. */
  readonly background: Float64Array | null;
  /** Relative error granted to the model, beside counting; annealed to 0 over the rounds. */
  readonly relativeError: number;
  /** The model is far from the counts: nothing is gained by a long search. */
  readonly hopeless: boolean;
  /** Element indices that may not be used. */
  readonly banned: ReadonlySet<number>;
}

/** Smallest expected counts a channel's weight is made of. */
const MIN_EXPECTED = 0.2;
/** Flat shelf: 1.3 ± 0.7 % of the counts (fits to measured spectra of five instruments). */
const SHELF = { mean: 0.013, sigma: 0.007 };
/** Sum peaks: fraction of the counts, from nothing to some per cent with the rate. */
const PILE_UP = { mean: 0.003, sigma: 0.015 };
/** A line below 1 keV piles up by its own fraction (the fast channel is blind to it) and lands within 10 eV. */
const SOFT_PARTNER = {
  below: 1000,
  minCounts: 2000,
  fraction: { mean: 0, sigma: 0.01 },
  shift: { mean: 0, sigma: 10 * PILE_UP.mean },
};

export function solveRound(frame: Frame, candidates: readonly number[], start: RoundStart): Round {
  const { counts, range, emission } = frame;
  const { lo, hi } = range;
  const n = counts.length;
  const { instrument } = start;
  const weights = weightsOf(start.model, start.relativeError, lo, hi);
  const areas = lineAreas(emission.lines(start.composition, wantedOf(candidates)), instrument, candidates);
  const templates = candidates.map((z) => elementTemplate(z, areas, instrument, n));
  const members = membersOf(templates, areas, start.doubted, instrument, n);
  const artefacts = artefactColumns(frame, start, members);
  const nuisances = nuisancesOf(frame, start, members, weights);
  const columns = [...templates, ...artefacts, ...nuisances].map(({ column }) => column);
  const normal = normalEquations(columns, counts, weights, lo, hi);
  const elimination = eliminate(normal, templates.length, priorOf(artefacts, nuisances, start.backgroundLevel));
  const before = start.amounts.reduce<number[]>((list, amount, e) => (amount > 0 ? [...list, e] : list), []);
  const own = ownColumnsOf(templates, artefacts.length, nuisances);
  const { hypothesis, problem, struck } = searchOwned(
    elimination,
    own,
    start.relativeError > 0 ? [before, []] : [before],
    { penalty: frame.penalty, banned: start.banned, ...(start.hopeless && { swaps: 0 }) },
  );
  const theta = eliminatedAt(elimination, hypothesis.x, struck);
  const model = expectedCounts(n, templates, artefacts, nuisances, hypothesis.x, theta, lo, hi);
  const background = new Float64Array(n);
  artefacts.forEach(({ name, column }, i) => {
    if (name === 'background' || name === 'continuum doubt') addScaled(background, column, theta[i]);
  });
  const c = cash(counts, model, lo, hi);
  let merit = c;
  for (const e of hypothesis.members) merit += frame.penalty[e];
  const out = new Set(struck);
  nuisances.forEach(({ mean, sigma }, i) => {
    const at = artefacts.length + i;
    if (!out.has(at)) merit += ((theta[at] - mean) / sigma) ** 2;
  });
  return {
    instrument,
    composition: start.composition,
    templates,
    areas,
    artefacts,
    nuisances,
    elimination,
    own,
    problem,
    struck,
    hypothesis,
    theta,
    background,
    model,
    merit,
    c,
  };
}

function wantedOf(candidates: readonly number[]): Uint8Array {
  const wanted = new Uint8Array(99);
  for (const z of candidates) wanted[z] = 1;
  return wanted;
}

function weightsOf(model: Float64Array, relativeError: number, lo: number, hi: number): Float64Array {
  const weights = new Float64Array(model.length);
  for (let i = lo; i < hi; i++) {
    const m = Math.max(model[i], MIN_EXPECTED);
    weights[i] = 1 / (m + (relativeError * m) ** 2);
  }
  return weights;
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

function artefactColumns(frame: Frame, start: RoundStart, members: readonly Member[]): ArtefactColumn[] {
  const { lo, hi } = frame.range;
  const n = frame.counts.length;
  const { axis } = start.instrument;
  const zero = channelOf(axis, 0);
  const energies = channelEnergies(axis, n);
  const detected = detectedContinuum(
    frame.emission,
    frame.attenuatedEmission,
    start.composition,
    start.instrument,
    n,
    lo,
    hi,
  );
  const continuum = detected.counts;
  const background = start.background ?? continuum.map((value) => value * start.backgroundLevel);
  const measured = start.model;
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
    { name: 'charge shelf', column: shelfColumn(measured, lo, hi, zero), prior: SHELF },
    { name: 'sum peaks', column: columnOf(selfConvolution(measured, lo, zero)), prior: PILE_UP },
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

function nuisancesOf(frame: Frame, start: RoundStart, members: readonly Member[], weights: Float64Array): Nuisance[] {
  const { lo, hi } = frame.range;
  const orthogonal = orthogonaliser(weights, lo, hi);
  return [
    ...instrumentNuisances(members, start.instrument, start.prior, orthogonal, frame.counts.length),
    ...members.flatMap((member) => memberNuisances(member, orthogonal)),
  ];
}

function priorOf(artefacts: readonly ArtefactColumn[], nuisances: readonly Nuisance[], level: number): Prior {
  const q = artefacts.length + nuisances.length;
  const precision = new Float64Array(q * q);
  const precisionMean = new Float64Array(q);
  const set = (i: number, mean: number, sigma: number): void => {
    precision[i * q + i] += 1 / sigma ** 2;
    precisionMean[i] = mean / sigma ** 2;
  };
  const splines = artefacts.filter(({ name }) => name === 'background').length;
  addSmoothness(precision, q, 0, splines, level);
  artefacts.forEach(({ prior }, i) => {
    if (prior) set(i, prior.mean, prior.sigma);
  });
  nuisances.forEach(({ mean, sigma }, i) => set(artefacts.length + i, mean, sigma));
  return { precision, precisionMean };
}

function expectedCounts(
  n: number,
  templates: readonly ElementTemplate[],
  artefacts: readonly ArtefactColumn[],
  nuisances: readonly Nuisance[],
  x: Float64Array,
  theta: Float64Array,
  lo: number,
  hi: number,
): Float64Array {
  const model = new Float64Array(n);
  templates.forEach(({ column }, e) => addScaled(model, column, x[e]));
  artefacts.forEach(({ column }, i) => addScaled(model, column, theta[i]));
  nuisances.forEach(({ column }, i) => addScaled(model, column, theta[artefacts.length + i]));
  for (let i = 0; i < n; i++) model[i] = i < lo || i >= hi ? 0 : Math.max(model[i], MIN_EXPECTED / 10);
  return model;
}

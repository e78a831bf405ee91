import { banded } from '../arithmetic/banded.ts';
import { addSmoothness } from '../model/background.ts';
import { instrumentNuisances, memberNuisances, type Member, type Nuisance } from '../model/nuisances.ts';
import { orthogonaliser } from '../model/orthogonaliser.ts';
import type { Prior } from './eliminate.ts';
import { artefactColumns } from './artefacts.ts';
import { USUAL_SUM_RATE, type Expansion, type Scene } from './expansion.ts';
import { Layout, type ArtefactColumn } from './layout.ts';
import { designCost, linearCost } from './work.ts';
import { surroundingsOf, type Surroundings } from './surroundings.ts';

/** The linear model around a point. */
export interface Design {
  /** Detected area of every line per unit amount, LINE_TABLE order. */
  readonly areas: Float64Array;
  readonly layout: Layout;
  /** Elements with nuisances of their own. */
  readonly members: readonly Member[];
  /** Prior of everything but the amounts. */
  readonly prior: Prior;
}

/** Smallest and largest fraction that shifts of sums are scaled by. */
const SUM_RATES = [0.001, 0.05] as const;

/** Fraction of the counts in sum peaks, from a solution. */
export function sumRateOf({ layout }: Design, coefficients: Float64Array): number {
  const i = layout.indexOfArtefact('sum peaks');
  return i < 0 ? USUAL_SUM_RATE : Math.min(SUM_RATES[1], Math.max(SUM_RATES[0], coefficients[i]));
}

/** Smallest expected counts a channel's weight is made of. */
const MIN_EXPECTED = 0.2;
/**
 * Columns and priors of the model around a point.
 * @param zs elements with a template each
 * @param doubted amounts, aligned with zs: elements with amounts above 0 get nuisances of their own
 * @param weights 1 / variance per channel: nuisances are made orthogonal in this metric
 * @param beside a design made in the same place for another set of elements that explains the same peaks: its sums are those of this set too
 */
export function designOf(
  scene: Scene,
  zs: readonly number[],
  at: Expansion,
  doubted: Float64Array,
  weights: Float64Array,
  beside?: Design,
): Design {
  const surroundings = surroundingsOf(scene, at);
  const areas = surroundings.areas(zs);
  const templates = zs.map((z) => surroundings.template(z));
  const members = membersOf(zs, doubted, surroundings, at);
  const artefacts = artefactColumns(scene, at, members, weights, beside && sumsOf(beside));
  const layout = new Layout(templates, artefacts, nuisancesOf(scene, at, members, weights));
  return { areas, layout, members, prior: priorOf(layout, at.backgroundLevel) };
}

const sumsOf = ({ layout }: Design): ArtefactColumn[] => layout.artefacts.filter(({ name }) => name === 'sum peaks');

/**
 * The design with its doubts, or, where what is left of the reading's work does not reach for so many columns, without: counts that no
 * element explains can have thousands of them.
 */
export function affordableDesign(
  scene: Scene,
  zs: readonly number[],
  at: Expansion,
  doubted: Float64Array,
  weights: Float64Array,
  beside?: Design,
): Design {
  const { lo, hi } = scene.range;
  scene.work?.spend(designCost(scene.counts.length));
  const design = designOf(scene, zs, at, doubted, weights, beside);
  if (scene.work?.covers(linearCost(design.layout.size, hi - lo)) ?? true) return design;
  return designOf(scene, zs, at, new Float64Array(doubted.length), weights, beside);
}

/** 1 / variance per channel of a model, with a relative model error beside counting; kept as long as the model is. */
export function weightsOf(model: Float64Array, relativeError: number, lo: number, hi: number): Float64Array {
  const kept = WEIGHTS.get(model);
  if (kept?.relativeError === relativeError && kept.lo === lo && kept.hi === hi) return kept.weights;
  const weights = newWeights(model, relativeError, lo, hi);
  WEIGHTS.set(model, { relativeError, lo, hi, weights });
  return weights;
}

interface Weights {
  readonly relativeError: number;
  readonly lo: number;
  readonly hi: number;
  readonly weights: Float64Array;
}

const WEIGHTS = new WeakMap<Float64Array, Weights>();

function newWeights(model: Float64Array, relativeError: number, lo: number, hi: number): Float64Array {
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

function membersOf(
  zs: readonly number[],
  amounts: Float64Array,
  shapes: Surroundings,
  { heights }: Expansion,
): Member[] {
  return zs.flatMap((z, e) => {
    if (!(amounts[e] > 0)) return [];
    const groups = shapes.groups(z);
    const own = heights?.get(z);
    return [
      {
        template: shapes.template(z),
        amount: amounts[e],
        groups,
        bands: shapes.bands(z),
        heights: groups.map(({ group: { name } }) => own?.get(name) ?? 1),
      },
    ];
  });
}

function nuisancesOf(scene: Scene, at: Expansion, members: readonly Member[], weights: Float64Array): Nuisance[] {
  const { lo, hi } = scene.range;
  const orthogonal = orthogonaliser(weights, lo, hi);
  return [
    ...instrumentNuisances(members, at.instrument, at.prior, orthogonal, scene.counts.length),
    ...members.flatMap((member) =>
      memberNuisances(member, at.instrument, orthogonal, scene.counts.length, at.prior.ratios),
    ),
  ];
}

export function priorOf(layout: Layout, level: number): Prior {
  const q = layout.eliminated;
  const precision = banded(q);
  const precisionMean = new Float64Array(q);
  let constant = 0;
  addSmoothness(precision, 0, layout.splineCount, level);
  // In the order of the eliminated coefficients.
  const priors = [...layout.artefacts.map(({ prior }) => prior), ...layout.nuisances];
  for (let i = 0; i < q; i++) {
    const prior = priors[i];
    if (!prior) continue;
    const { mean, sigma } = prior;
    precision.own[i] += 1 / sigma ** 2;
    precisionMean[i] = mean / sigma ** 2;
    constant += (mean / sigma) ** 2;
  }
  return { precision, precisionMean, constant };
}

import { selfConvolution, shelfColumn } from '../model/coincidence.ts';
import { columnFrom, information, spreadOut } from '../model/column.ts';
import { continuumDoubts } from '../model/continuum.ts';
import { detectorAluminiumColumn, detectorSiliconColumn, softBumpColumn } from '../model/detector-fluorescence.ts';
import { CONTINUUM_DISCREPANCY, SUM_DISCREPANCY, wiggles, type Wiggle } from '../model/discrepancy.ts';
import { flatFloor } from '../model/flat-floor.ts';
import { channelOf } from '../model/instrument.ts';
import { WORTHWHILE, type Member } from '../model/nuisances.ts';
import { siliconEdgeColumn } from '../model/silicon-edge.ts';
import { sumPeaks } from '../model/sum-peaks.ts';
import type { Expansion, Scene } from './expansion.ts';
import type { ArtefactColumn, ArtefactName } from './layout.ts';
import { stepColumns } from './step-columns.ts';
import { surroundingsOf, type Surroundings } from './surroundings.ts';

/** What the continuum gains at the silicon edge, in units of what it is expected to: the shift there is neither shown nor excluded by measured peaks. */
const EDGE_PEAK = { mean: 1, sigma: 1 };
/** Flat shelf: 1.3 ± 0.7 % of the counts (fits to measured spectra of five instruments). */
export const SHELF = { mean: 0.013, sigma: 0.007 };
/**
 * Silicon peak of the detector itself in units of what its dead layer gives: dead layers vary by a factor of two. Grid, collimator and
 * housing can add ten times that (measured on ZnO, Cu and GaAs): a weak silicon peak is therefore told with the detector as a possible origin.
 */
export const DETECTOR_SILICON = { mean: 1, sigma: 0.8 };
/** Aluminium peak of the detector itself, in counts per count above the edge: contact and collimator (measured on samples without aluminium, four instruments: 0 to 0.05 %). */
const DETECTOR_ALUMINIUM = { mean: 0, sigma: 2.5e-4 };
/**
 * A bump where N K lies that is no nitrogen of the specimen, in counts per count: 9e-4 on a steel and on a sulfide, cause unknown (the
 * window's film holds nitrogen). No other instrument showed it.
 */
const SOFT_BUMP = { mean: 0, sigma: 3e-4 };
/** Sum peaks: fraction of the counts, from nothing to some per cent with the rate. */
const PILE_UP = { mean: 0.003, sigma: 0.015 };
/** Pairs with a soft partner, whose rate the fast channel decides (measured: up to 2 %). */
const SOFT_PARTNER = { mean: 0, sigma: 0.02 };
/** A common rate of sums below this is not told from nothing. */
const LEAST_RATE = 0.002;
/** Triples (measured: 3 x Si K at 8e-4 of Si K with 4 million counts). */
const TRIPLES = { mean: 0, sigma: 0.001 };
/** Sums lie up to 9 eV beside the sum of the energies, soft ones 10 eV (measured). */
const SUM_SHIFT_EV = 8;

/** The common rate of sums about which pairs have rates of their own. */
export const commonRate = ({ sumRate }: Pick<Expansion, 'sumRate'>): number => Math.max(sumRate, LEAST_RATE);

/**
 * Columns of the instrument's and the background's doing; the splines of the background come first.
 * @param sums sum peaks that are known already: those of another set of elements that explains the same peaks
 */
export function artefactColumns(
  scene: Scene,
  at: Expansion,
  members: readonly Member[],
  weights: Float64Array,
  sums?: readonly ArtefactColumn[],
): ArtefactColumn[] {
  const { background, columns } = steadyArtefacts(scene, at, weights);
  return [
    ...columns,
    ...stepColumns(scene, at, members, background, weights),
    ...(sums ?? sumColumns(scene, at, members, background, weights)),
  ];
}

/** By what a part of the model may wiggle, as far as the counts can tell. */
function doubtsOf(
  name: ArtefactName,
  part: Float64Array,
  by: Wiggle,
  { instrument }: Expansion,
  weights: Float64Array,
  { lo, hi }: Scene['range'],
): ArtefactColumn[] {
  const doubts: ArtefactColumn[] = [];
  for (const column of wiggles(part, by, instrument, lo, hi))
    if (information(column, weights, lo, hi) > WORTHWHILE ** 2)
      doubts.push({ name, column, prior: { mean: 0, sigma: 1 } });
  return doubts;
}

/** Artefacts that no amount changes, and the continuum counts that they were made with. */
interface Steady {
  readonly background: Float64Array;
  readonly columns: readonly ArtefactColumn[];
}

/** Those last made with some weights, by the weights: sets of elements tried in one place share them. */
const STEADY = new WeakMap<Float64Array, Steady & Where>();

interface Where {
  readonly counts: Float64Array;
  readonly at: Expansion;
  readonly surroundings: Surroundings;
}

function steadyArtefacts(scene: Scene, at: Expansion, weights: Float64Array): Steady {
  const surroundings = surroundingsOf(scene, at);
  const kept = STEADY.get(weights);
  const where = { counts: scene.counts, at, surroundings };
  if (kept && samePlace(kept, where)) return kept;
  const background = at.background ?? surroundings.continuum.counts.map((value) => value * at.backgroundLevel);
  const made = { ...where, background, columns: steadyColumns(scene, at, surroundings, background, weights) };
  STEADY.set(weights, made);
  return made;
}

const samePlace = (a: Where, b: Where): boolean =>
  a.counts === b.counts &&
  a.surroundings === b.surroundings &&
  a.at.model === b.at.model &&
  a.at.background === b.at.background &&
  a.at.backgroundLevel === b.at.backgroundLevel &&
  a.at.prior.artefacts === b.at.prior.artefacts;

function steadyColumns(
  scene: Scene,
  at: Expansion,
  { splines, continuum }: Surroundings,
  background: Float64Array,
  weights: Float64Array,
): ArtefactColumn[] {
  const { range } = scene;
  const { lo, hi } = range;
  const { axis } = at.instrument;
  const zero = channelOf(axis, 0);
  const told = at.prior.artefacts ?? {};
  const edge = siliconEdgeColumn(background, at.instrument, lo, hi);
  return [
    ...splines.map((column): ArtefactColumn => ({ name: 'background', column, prior: null })),
    ...continuumDoubts(background, continuum, lo, hi).map((column): ArtefactColumn => ({
      name: 'continuum doubt',
      column,
      prior: { mean: 0, sigma: 1 },
    })),
    ...(edge ? [{ name: 'continuum doubt' as const, column: edge, prior: EDGE_PEAK }] : []),
    ...doubtsOf('continuum doubt', background, CONTINUUM_DISCREPANCY, at, weights, range),
    { name: 'charge shelf', column: shelfColumn(at.model, lo, hi, zero), prior: told['charge shelf'] ?? SHELF },
    ...floorColumn(scene, Math.ceil(channelOf(axis, ABOVE_BEAM * scene.emission.beamEv))),
    {
      name: 'detector silicon',
      column: detectorSiliconColumn(at.model, lo, hi, at.instrument),
      prior: told['detector silicon'] ?? DETECTOR_SILICON,
    },
    {
      name: 'detector aluminium',
      column: detectorAluminiumColumn(at.model, lo, hi, at.instrument),
      prior: DETECTOR_ALUMINIUM,
    },
    { name: 'soft bump', column: softBumpColumn(at.model, lo, hi, at.instrument), prior: SOFT_BUMP },
  ];
}

/** Above the stated beam energy, the width of a channel or two spared. */
const ABOVE_BEAM = 1.005;

function floorColumn({ counts, range }: Scene, beyond: number): ArtefactColumn[] {
  const floor = flatFloor(counts, range.lo, range.hi, beyond);
  return floor ? [{ name: 'flat floor', column: floor.column, prior: { mean: 0, sigma: floor.level } }] : [];
}

/** Sum peaks: of the elements' lines once there are some, before that of the counts themselves. */
function sumColumns(
  scene: Scene,
  at: Expansion,
  members: readonly Member[],
  background: Float64Array,
  weights: Float64Array,
): ArtefactColumn[] {
  const { counts, range } = scene;
  const common = at.prior.artefacts?.['sum peaks'] ?? PILE_UP;
  const named = (column: ArtefactColumn['column'], prior: ArtefactColumn['prior']): ArtefactColumn => ({
    name: 'sum peaks',
    column,
    prior,
  });
  if (members.length === 0) {
    const zero = channelOf(at.instrument.axis, 0);
    return [named(columnFrom(selfConvolution(at.model, range.lo, zero), 0), common)];
  }
  const smear = surroundingsOf(scene, at).sumSmear;
  const total = counts.reduce((sum, value, i) => (i >= range.lo ? sum + value : sum), 0);
  const rate = commonRate(at);
  const sums = sumPeaks(members, background, at.instrument, smear, { lo: range.lo, total, rate });
  const moved = { mean: 0, sigma: SUM_SHIFT_EV * at.sumRate };
  // A start far from the counts must not make them larger than all that is expected.
  const expected = spreadOut(sums.pairs, counts.length).map((value, i) => Math.min(value * at.sumRate, at.model[i]));
  return [
    named(sums.pairs, common),
    named(sums.triples, TRIPLES),
    ...doubtsOf('sum peaks', expected, SUM_DISCREPANCY, at, weights, range),
    ...sums.soft.flatMap(({ column, shift }) => [named(column, SOFT_PARTNER), named(shift, moved)]),
    ...sums.strong
      .map(({ column, shift, doubt }) => ({ column, shift, own: { mean: 0, sigma: doubt * rate } }))
      .filter(({ column, own }) => own.sigma ** 2 * information(column, weights, range.lo, range.hi) > WORTHWHILE ** 2)
      .flatMap(({ column, shift, own }) => [named(column, own), named(shift, moved)]),
  ];
}

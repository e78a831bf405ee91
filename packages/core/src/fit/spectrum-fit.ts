import type { Instrument } from '../model/instrument.ts';
import { bandedAfter, bandedOf } from '../arithmetic/banded.ts';
import { log } from '../arithmetic/exponential.ts';
import { picked } from '../arithmetic/pick.ts';
import { commonRate } from './artefacts.ts';
import { isBetterOfTwo, isNearEnough } from './at-rest.ts';
import { affordableDesign, expectedCounts, sumRateOf, weightsOf, type Design } from './design.ts';
import type { Expansion, Scene } from './expansion.ts';
import { groupHeights } from './heights.ts';
import { instrumentPrior, movedInstrument, type StatedInstrument } from './instrument-prior.ts';
import { isContinuum, Layout } from './layout.ts';
import { correctedMatrix, foundIn, type FoundIn } from './matrix-correction.ts';
import type { MatrixTried } from './matrix-step.ts';
import { fitPoisson } from './poisson.ts';
import type { PoissonFit, PoissonProblem } from './poisson-problem.ts';

/** A spectrum fitted by maximum likelihood with a given set of elements. */
export interface SpectrumFit {
  readonly zs: readonly number[];
  /** The point around which the last linear model was made; its instrument and matrix are those of the solution. */
  readonly at: Expansion;
  readonly design: Design;
  /** Coefficients in the order of the design's columns: amounts, artefacts, nuisances. */
  readonly fit: PoissonFit;
  readonly expected: Float64Array;
  readonly background: Float64Array;
  /** Times the model was made anew. */
  readonly expansions: number;
  /** The Poisson fit converged, and the model around its solution is the model it was found with. */
  readonly converged: boolean;
}

export interface SpectrumFitOptions {
  /** With what the physics itself is in doubt of (nuisances of each element, layers, absorption); true. */
  readonly doubts?: boolean;
  readonly maxExpansions?: number;
  /** Newton steps per expansion. */
  readonly maxIterations?: number;
  /** Chi-square at which Newton steps end; 1e-3. */
  readonly tolerance?: number;
  /** The start's expected counts are near the solution: a least-squares step from them begins the fit. */
  readonly near?: boolean;
  /** A design made in the start's place for another set of elements, which explains the same peaks. */
  readonly beside?: Design;
}

const MAX_EXPANSIONS = 12;
const MAX_ITERATIONS = 40;
/** Chi-square at which Newton steps end where nothing else is asked for. */
const TOLERANCE = 1e-3;
/**
 * The model is made anew until the instrument moves by less than this many standard uncertainties: the model follows such a move in its
 * columns, and what it misses goes with the square of the move (chi-square about 1 / counts) ...
 */
const INSTRUMENT_TOLERANCE = 1;
/** ... and no mass fraction is missing more than this many standard uncertainties, or than absorption would feel beside what it is known to ... */
const COMPOSITION_TOLERANCE = 1;
const COMPOSITION_ENOUGH = 1e-3;
/** ... nor the common rate of sums by more than this, relative: in the model it sets how wide the doubts about single pairs are. */
const SUMS_TOLERANCE = 0.1;
const INSTRUMENT_KINDS = ['offset', 'gain', 'noise', 'fano'] as const;

/**
 * Maximum likelihood of amounts (not negative), background, sums, shelf, axis, resolution and nuisances for a set of
 * elements. Inside a linear model the maximum is exact (fitPoisson); axis, resolution and matrix are then moved to it and the
 * model is made anew, until nothing moves.
 * @param zs atomic numbers
 * @param amounts start of the amounts, aligned with zs, > 0
 * @param stated instrument as stated beforehand: its axis and noise are the prior's
 */
export function fitSpectrum(
  scene: Scene,
  zs: readonly number[],
  start: Expansion,
  amounts: Float64Array,
  stated: StatedInstrument,
  options: SpectrumFitOptions = {},
): SpectrumFit {
  const {
    doubts = true,
    maxExpansions = MAX_EXPANSIONS,
    maxIterations = MAX_ITERATIONS,
    tolerance = TOLERANCE,
    near,
    beside,
  } = options;
  let at = start;
  let before: PoissonFit | null = null;
  let designBefore: Design | null = null;
  const reached: number[] = [];
  for (let expansions = 1; ; expansions++) {
    // An element that fell to 0 on the way keeps its doubts: without them it could not come back.
    const doubted = before ? amounts.map((amount, e) => before!.coefficients[e] || amount) : amounts;
    const design = certain(designAround(scene, zs, at, doubted, before ? undefined : beside), doubts);
    const first = startOf(design, at, amounts, before, designBefore);
    const fit = fitPoisson(problemOf(scene, design), first, {
      maxIterations,
      tolerance,
      ...(near && { roughly: at.model }),
    });
    const around = at;
    const tried = matrixTried(around, design, fit);
    const solution = (): Omit<SpectrumFit, 'converged'> => ({
      zs,
      at: around,
      design,
      fit,
      expected: fit.expected,
      background: design.layout.continuum(fit.coefficients, scene.counts.length),
      expansions,
    });
    if (expansions === maxExpansions || scene.work?.isSpent) {
      return {
        ...solution(),
        // Whether this one stands still is worked out only for who asks.
        get converged() {
          return isStill(around, design, fit, tried) && fit.converged;
        },
      };
    }
    reached.push(fit.penalised);
    if (isStill(around, design, fit, tried) || isBetterOfTwo(reached) || isNearEnough(reached))
      return { ...solution(), converged: fit.converged };
    at = moved(scene, around, design, fit, stated);
    before = fit;
    designBefore = design;
  }
}

function designAround(
  scene: Scene,
  zs: readonly number[],
  at: Expansion,
  amounts: Float64Array,
  beside: Design | undefined,
): Design {
  const { lo, hi } = scene.range;
  return affordableDesign(scene, zs, at, amounts, weightsOf(at.model, 0, lo, hi), beside);
}

/** The design without what doubts the physics: the instrument's own freedom stays. */
function certain(design: Design, doubts: boolean): Design {
  if (doubts) return design;
  const { layout, prior } = design;
  const artefact = layout.artefacts.map(({ name }) => name === 'background' || !isContinuum(name));
  const nuisance = layout.nuisances.map(({ owner }) => owner === 0);
  const keep = [...artefact, ...nuisance].flatMap((kept, i) => (kept ? [i] : []));
  return {
    ...design,
    layout: new Layout(
      layout.templates,
      layout.artefacts.filter((_, i) => artefact[i]),
      layout.nuisances.filter((_, i) => nuisance[i]),
    ),
    prior: {
      precision: bandedOf(prior.precision, keep),
      precisionMean: picked(prior.precisionMean, keep),
      constant: prior.constant ?? 0,
    },
  };
}

/** The fit's problem: all columns of a design with their bounds and priors; kept as long as the design is. */
export function problemOf(scene: Scene, design: Design): PoissonProblem {
  const kept = PROBLEMS.get(design);
  if (kept?.scene === scene) return kept.problem;
  const problem = newProblem(scene, design);
  PROBLEMS.set(design, { scene, problem });
  return problem;
}

const PROBLEMS = new WeakMap<Design, { readonly scene: Scene; readonly problem: PoissonProblem }>();

function newProblem(scene: Scene, { layout, prior }: Design): PoissonProblem {
  const precision = bandedAfter(layout.elements, prior.precision);
  const precisionMean = new Float64Array(layout.size);
  precisionMean.set(prior.precisionMean, layout.elements);
  const { lo, hi } = scene.range;
  const { columns } = layout;
  return {
    columns,
    counts: scene.counts,
    work: scene.work,
    lo,
    hi,
    lower: layout.lowerBounds(),
    prior: { precision, precisionMean, constant: prior.constant ?? 0 },
  };
}

/** Amounts and artefacts as they were; nuisances and the instrument's moves begin at 0. */
function startOf(
  { layout }: Design,
  at: Expansion,
  amounts: Float64Array,
  before: PoissonFit | null,
  designBefore: Design | null,
): Float64Array {
  const start = new Float64Array(layout.size);
  if (before && designBefore && designBefore.layout.artefacts.length === layout.artefacts.length) {
    start.set(before.coefficients.subarray(0, layout.nuisance(0)));
    return start;
  }
  start.set(amounts);
  layout.splines(start).fill(at.backgroundLevel);
  return start;
}

/** The next point to make the model linear around. */
function moved(scene: Scene, at: Expansion, design: Design, fit: PoissonFit, stated: StatedInstrument): Expansion {
  const { layout } = design;
  const { coefficients } = fit;
  const instrument = movedInstrument(at.instrument, (kind) => coefficients[layout.indexOf(kind)], at.prior.pivotEv);
  return {
    instrument,
    composition: correctedMatrix(scene.emission, at.instrument, foundBy(at, design, fit)),
    prior: instrumentPrior(stated, instrument),
    model: expectedCounts(design, coefficients, scene),
    backgroundLevel: levelOf(layout.splines(coefficients), at.backgroundLevel),
    background: layout.continuum(coefficients, scene.counts.length),
    sumRate: sumRateAfter(at, design, fit),
    heights: groupHeights(layout, design.members, coefficients),
  };
}

const foundBy = ({ instrument, composition }: Expansion, design: Design, { coefficients }: PoissonFit): FoundIn =>
  foundIn(composition, instrument, design, design.layout.amounts(coefficients));

/** What a model's matrix was, and what its fit gives. */
function matrixTried(at: Expansion, design: Design, fit: PoissonFit): MatrixTried {
  const found = foundBy(at, design, fit);
  return { made: at.composition, fitted: found.fractions(found.amounts) };
}

/** Half of the way: how many pairs have rates of their own goes with the common one, and takes its counts, so full steps go to and fro. */
function sumRateAfter({ sumRate }: Expansion, design: Design, { coefficients }: PoissonFit): number {
  return Math.sqrt(sumRate * sumRateOf(design, coefficients));
}

/** Median of the spline coefficients above 0. */
export function levelOf(splines: Float64Array, before: number): number {
  const levels = splines.filter((value) => value > 0).sort();
  return levels[Math.floor(levels.length / 2)] ?? before;
}

function isStill(at: Expansion, design: Design, fit: PoissonFit, { made, fitted }: MatrixTried): boolean {
  const { layout } = design;
  const instrumentStill = INSTRUMENT_KINDS.every((kind) => {
    const j = layout.indexOf(kind);
    return Math.abs(fit.coefficients[j]) <= INSTRUMENT_TOLERANCE * Math.sqrt(fit.variance(j));
  });
  const total = layout.amounts(fit.coefficients).reduce((sum, amount) => sum + amount, 0);
  const matrixStill = layout.templates.every(({ z }, e) => {
    const sigma = Math.sqrt(fit.variance(e)) / total;
    return Math.abs(fitted[z] - made[z]) <= Math.max(COMPOSITION_ENOUGH, COMPOSITION_TOLERANCE * sigma);
  });
  const sumsStill =
    Math.abs(log(commonRate({ sumRate: sumRateAfter(at, design, fit) }) / commonRate(at))) < SUMS_TOLERANCE;
  return instrumentStill && matrixStill && sumsStill;
}

/** The instrument of a solution: the expansion's, moved by what little the last fit asked for. */
export function instrumentOf({ at, design, fit }: SpectrumFit): Instrument {
  return movedInstrument(at.instrument, (kind) => fit.coefficients[design.layout.indexOf(kind)], at.prior.pivotEv);
}

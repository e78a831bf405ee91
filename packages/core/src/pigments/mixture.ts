import type { Amount, Evidence } from './evidence.ts';
import type { Part } from './part.ts';
import { PRIORS } from './priors.ts';

/** The best amounts of given parts, and how well they meet the evidence. */
export interface Mixture {
  readonly parts: readonly Part[];
  /** Mass fraction of each part in what was analysed, > 0. */
  readonly fractions: Float64Array;
  /** Relative standard deviation of each. */
  readonly relative: Float64Array;
  /** Mass fraction of each element that the parts hold together, aligned with the evidence. */
  readonly held: Float64Array;
  /** Squared deviations of each element, counting and physics at their most likely, aligned with the evidence. */
  readonly deviations: Float64Array;
  readonly chi2: number;
  /** Logarithm of the likelihood times the prior of as many parts, whichever they are: what the amounts alone say. */
  readonly lnAmounts: number;
  /** The same with the prior of each part: how usual it is, and its class. */
  readonly lnWeight: number;
}

/** What any material may hold of any other element, mass fraction, one standard deviation. Chosen. */
export const IMPURITY = 0.003;

/** What an element costs at most that is left to a material not among the known ones, as chi-square. Chosen. */
const UNKNOWN = 40;

const MOST_STEPS = 25;
const STILL = 1e-3;
const LONGEST_STEP = 1.5;
const DAMPING = 1e-3;
const LEAST_LN = Math.log(1e-6);

/**
 * Fits parts to the evidence: maximum of the likelihood over the logarithms of the fractions and over one factor per element,
 * exp(n_i) with standard deviation by physics and by the spread of the materials, by Gauss-Newton steps. The measured amount is
 * `held * exp(n)` plus counting noise, so a gross excess costs as the square of its logarithm and a gross lack as the square of
 * its standard deviations.
 * @param start mass fractions to start from, > 0
 * @param fixed index of a part whose fraction stays; -1 for none
 */
export function fitMixture(evidence: Evidence, parts: readonly Part[], start: ArrayLike<number>, fixed = -1): Mixture {
  const { amounts } = evidence;
  const k = parts.length;
  const { ln, n, equations, doubt, excess } = workspace(amounts.length, k);
  for (let a = 0; a < k; a++) ln[a] = Math.max(LEAST_LN, Math.log(start[a]));
  n.fill(0);
  const state = { fractions: new Float64Array(k), held: new Float64Array(amounts.length), doubt, excess };
  setState(state, evidence, parts, ln);
  for (let step = 0; step < MOST_STEPS && k > 0; step++) {
    setEquations(equations, evidence, parts, state, n);
    const move = solve(equations, k, fixed);
    let largest = 0;
    for (let a = 0; a < k; a++) {
      const next = Math.max(LEAST_LN, ln[a] + Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, move[a])));
      move[a] = next - ln[a];
      ln[a] = next;
      largest = Math.max(largest, Math.abs(move[a]));
    }
    largest = Math.max(largest, moveFactors(n, equations, state, move));
    setState(state, evidence, parts, ln);
    if (largest < STILL) break;
  }
  return concluded(evidence, parts, state, n, equations.normal);
}

/** What one fit works on and nothing of its solution stays in: kept for the next of the same size. */
interface Workspace {
  readonly elements: number;
  /** Logarithms of the fractions, and the factors by element. */
  readonly ln: Float64Array;
  readonly n: Float64Array;
  readonly equations: Equations;
  readonly doubt: Float64Array;
  readonly excess: Float64Array;
}

/** By number of parts. */
const WORKSPACES: Workspace[] = [];

function workspace(elements: number, k: number): Workspace {
  const kept = WORKSPACES[k] as Workspace | undefined;
  if (kept?.elements === elements) return kept;
  const byElement = (): Float64Array => new Float64Array(elements);
  return (WORKSPACES[k] = {
    elements,
    ln: new Float64Array(k),
    n: byElement(),
    equations: emptyEquations(elements, k),
    doubt: byElement(),
    excess: byElement(),
  });
}

/** The linear equations of one step: a row per element that asks for something, and their normal equations. */
interface Equations {
  /** Derivatives of what is expected of each element by the logarithm of each fraction; row by row. */
  readonly slope: Float64Array;
  readonly gap: Float64Array;
  /** 0 where an element asks for nothing. */
  readonly weight: Float64Array;
  readonly expected: Float64Array;
  readonly normal: Float64Array;
  readonly right: Float64Array;
  /** The same matrix, damped and eliminated, and the step that solves it. */
  readonly damped: Float64Array;
  readonly move: Float64Array;
}

function emptyEquations(n: number, k: number): Equations {
  const [gap, weight, expected] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  return {
    slope: new Float64Array(n * k),
    gap,
    weight,
    expected,
    normal: new Float64Array(k * k),
    right: new Float64Array(k),
    damped: new Float64Array(k * k),
    move: new Float64Array(k),
  };
}

function setEquations(
  { slope, gap, weight, expected, normal, right }: Equations,
  { amounts }: Evidence,
  parts: readonly Part[],
  { fractions, held, doubt, excess }: State,
  n: Float64Array,
): void {
  const k = parts.length;
  normal.fill(0);
  right.fill(0);
  for (let i = 0; i < amounts.length; i++) {
    const { kind, value, counting } = amounts[i];
    weight[i] = 0;
    if (!(held[i] > 0) || (kind === 'at-most' && held[i] <= value)) continue;
    const q = held[i] * Math.exp(doubt[i] * n[i]);
    const sigma = value > q ? excess[i] : counting;
    expected[i] = q;
    gap[i] = value - q + doubt[i] * q * n[i];
    weight[i] = 1 / (sigma ** 2 + (doubt[i] * q) ** 2);
    for (let a = 0; a < k; a++) slope[i * k + a] = (q * fractions[a] * parts[a].holds[i]) / held[i];
    for (let a = 0; a < k; a++) {
      const weighted = slope[i * k + a] * weight[i];
      right[a] += weighted * gap[i];
      for (let b = 0; b < k; b++) normal[a * k + b] += weighted * slope[i * k + b];
    }
  }
}

/** Moves the factors n to what the step leaves for them; the largest change of any logarithm. */
function moveFactors(
  n: Float64Array,
  { slope, gap, weight, expected }: Equations,
  { doubt }: State,
  move: Float64Array,
): number {
  const k = move.length;
  let largest = 0;
  for (let i = 0; i < n.length; i++) {
    let left = gap[i];
    for (let a = 0; a < k; a++) left -= slope[i * k + a] * move[a];
    const next = weight[i] === 0 ? 0 : doubt[i] * expected[i] * left * weight[i];
    largest = Math.max(largest, doubt[i] * Math.abs(next - n[i]));
    n[i] = next;
  }
  return largest;
}

/** What depends on the fractions alone. */
interface State {
  readonly fractions: Float64Array;
  readonly held: Float64Array;
  /** Standard deviation of ln(held), physics and spread. */
  readonly doubt: Float64Array;
  /** Standard deviation of a measured amount above what is held: counting, impurities, companions. */
  readonly excess: Float64Array;
}

function setState(
  { fractions, held, doubt, excess }: State,
  { amounts }: Evidence,
  parts: readonly Part[],
  ln: Float64Array,
): void {
  for (let m = 0; m < parts.length; m++) fractions[m] = Math.exp(ln[m]);
  for (let i = 0; i < amounts.length; i++) {
    const { physics, counting } = amounts[i];
    let [sum, spread, along] = [0, 0, 0];
    for (let m = 0; m < parts.length; m++) {
      const own = fractions[m] * parts[m].holds[i];
      sum += own;
      spread += (own * parts[m].loose[i]) ** 2;
      along += fractions[m] * parts[m].along[i];
    }
    held[i] = sum;
    doubt[i] = sum > 0 ? Math.sqrt(physics ** 2 + spread / sum ** 2) : physics;
    excess[i] = Math.sqrt(counting ** 2 + IMPURITY ** 2 + along ** 2);
  }
}

function concluded(
  { amounts }: Evidence,
  parts: readonly Part[],
  { fractions, held, doubt, excess }: State,
  n: Float64Array,
  normal: Float64Array,
): Mixture {
  const deviations = new Float64Array(amounts.length);
  let [chi2, volume] = [0, 0];
  amounts.forEach(({ kind, value, counting, physics }, i) => {
    if (kind === 'at-most' && held[i] <= value) return;
    const q = held[i] * Math.exp(doubt[i] * n[i]);
    const sigma = value > q ? excess[i] : counting;
    const deviation = ((value - q) / sigma) ** 2 + n[i] ** 2;
    deviations[i] = held[i] < value ? Math.min(UNKNOWN, deviation) : deviation;
    chi2 += deviations[i];
    if (kind !== 'at-most')
      volume += Math.log((sigma ** 2 + (doubt[i] * q) ** 2) / (sigma ** 2 + (physics * q) ** 2)) / 2;
  });
  const k = parts.length;
  const relative = new Float64Array(k);
  for (let m = 0; m < k; m++) relative[m] = Math.min(1, 1 / Math.sqrt(normal[m * k + m] || 1));
  const lnAmounts = -chi2 / 2 - volume + PRIORS.part.value * k;
  const lnWeight = parts.reduce((sum, { lnPrior }) => sum + lnPrior - PRIORS.part.value, lnAmounts);
  return { parts, fractions, relative, held, deviations, chi2, lnAmounts, lnWeight };
}

/** Solves the damped normal equations of at most a few unknowns by elimination; a fixed one does not move. */
function solve({ normal, right, damped: a, move: x }: Equations, k: number, fixed: number): Float64Array {
  a.set(normal);
  x.set(right);
  for (let i = 0; i < k; i++) a[i * k + i] = a[i * k + i] * (1 + DAMPING) + DAMPING;
  if (fixed >= 0) {
    for (let i = 0; i < k; i++) a[i * k + fixed] = a[fixed * k + i] = i === fixed ? 1 : 0;
    x[fixed] = 0;
  }
  for (let p = 0; p < k; p++) {
    for (let r = p + 1; r < k; r++) {
      const factor = a[r * k + p] / a[p * k + p];
      for (let c = p; c < k; c++) a[r * k + c] -= factor * a[p * k + c];
      x[r] -= factor * x[p];
    }
  }
  for (let p = k - 1; p >= 0; p--) {
    for (let c = p + 1; c < k; c++) x[p] -= a[p * k + c] * x[c];
    x[p] /= a[p * k + p];
  }
  return x;
}

/**
 * Quick estimate of an element's squared deviation where `held` of it is offered: the smaller of counting's and the logarithm's,
 * joined smoothly. Only for choosing what to fit.
 */
export function quickDeviation({ kind, value, counting, physics }: Amount, held: number): number {
  if (kind === 'at-most' && held <= value) return 0;
  const off = value - held;
  const linear = (off * off) / (counting * counting + (off > 0 ? IMPURITY * IMPURITY : 0));
  const most = held < value ? UNKNOWN : Infinity;
  if (held <= counting || linear === 0) return Math.min(most, linear);
  const logarithmic = (Math.log(Math.max(value, counting) / held) / physics) ** 2;
  return logarithmic === 0 ? 0 : Math.min(most, 1 / (1 / linear + 1 / logarithmic));
}

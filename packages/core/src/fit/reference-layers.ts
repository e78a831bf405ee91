import { exp, log } from '../arithmetic/exponential.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import type { Detector } from '../detector/detector.ts';
import { LAYER_DOUBTS } from '../model/continuum.ts';
import { efficiencyTable } from '../model/efficiency-table.ts';
import type { Believed } from '../model/instrument-knowledge.ts';
import { cholesky, inverseFromCholesky, solveCholesky } from './cholesky.ts';

/** An amount in a reference material: found against stated, and how layers on the detector would change it. Plain data. */
export interface AmountEvidence {
  readonly z: number;
  /** Natural logarithm of found over stated mass fraction, up to a constant of the spectrum. */
  readonly logRatio: number;
  /** Relative standard uncertainty, counting and physics. */
  readonly sigma: number;
  /** Change of ln(efficiency) for one unit more of ice, and of window: those of LAYER_DOUBTS. */
  readonly byIce: number;
  readonly byWindow: number;
}

/** Layers in front of the crystal that amounts can tell. */
export type Layers = Pick<Detector, 'window' | 'windowUm' | 'iceUm'>;

/** Amounts of one reference material, behind the layers they were found with. */
export interface KnownAmounts {
  readonly by: string;
  readonly layers: Layers;
  readonly amounts: readonly AmountEvidence[];
}

/** Units of LAYER_DOUBTS: ice in um, window as part of its thickness. */
const UNIT = { iceUm: 0.1, window: 0.25 };
/**
 * How far layers may be from the usual ones, in these units: ice to some tenths of a um; films by a quarter; beryllium windows are
 * made from 7 to 25 um and more (common practice, no source).
 */
const DOUBT = { ice: 3, film: 1, beryllium: 6 };

/** Response of an element's detected counts to layers, from the areas of its lines. */
export function layerResponse(
  z: number,
  areas: Float64Array,
  detector: Detector,
): Pick<AmountEvidence, 'byIce' | 'byWindow'> {
  const usual = efficiencyTable(detector).lines;
  const by = (change: (detector: Detector) => Partial<Detector>): number => {
    const changed = efficiencyTable({ ...detector, ...change(detector) }).lines;
    let [sum, total] = [0, 0];
    for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
      // Soft lines behind a thick window can fade below what a number holds.
      if (!(areas[i] > 0 && changed[i] > 0)) continue;
      sum += areas[i] * log(changed[i] / usual[i]);
      total += areas[i];
    }
    return total > 0 ? sum / total : 0;
  };
  return { byIce: by(LAYER_DOUBTS.ice), byWindow: by(LAYER_DOUBTS.window) };
}

/** Ice and window as reference materials tell them, um, before and after. */
export interface LayersTold {
  readonly ice: { readonly before: Believed; readonly after: Believed };
  readonly window: { readonly before: Believed; readonly after: Believed };
  readonly by: readonly string[];
}

/** What reference materials say of layers, null where none is left to say it; and which ones no layers reconcile with their label. */
export interface LayerTeaching {
  readonly told: LayersTold | null;
  readonly contradicted: ReadonlyMap<string, readonly AmountContradiction[]>;
}

/** An amount that contradicts the label: so many times as much, against the rest, as the label says. */
export interface AmountContradiction {
  readonly kind: 'amount';
  readonly z: number;
  readonly times: number;
}

/**
 * Least squares of the amounts' deviations on ice and window, each reference material with a scale of its own: ln(efficiency) is linear
 * in thickness. The material that contradicts its label most is left out, one by one.
 */
export function layersTold(known: readonly KnownAmounts[]): LayerTeaching {
  let kept = known.filter(({ amounts }) => amounts.length > 1);
  const contradicted = new Map<string, readonly AmountContradiction[]>();
  for (;;) {
    const [first] = kept;
    if (!first) return { told: null, contradicted };
    const fit = fitLayers(kept);
    const judged = kept.map((one) => ({ one, told: contradictions(one.amounts, fit.solution) }));
    const [worst] = judged.sort((a, b) => b.told.distance - a.told.distance);
    if (!worst || worst.told.distance <= 1)
      return { told: { ...beliefs(first.layers, fit), by: kept.map(({ by }) => by) }, contradicted };
    contradicted.set(worst.one.by, worst.told.found);
    kept = kept.filter((one) => one !== worst.one);
  }
}

interface LayerFit {
  /** Ice and window, in units of LAYER_DOUBTS more than they were taken for. */
  readonly solution: Float64Array;
  readonly covariance: Float64Array;
}

function fitLayers(known: readonly KnownAmounts[]): LayerFit {
  const film = known[0]?.layers.window === 'beryllium' ? DOUBT.beryllium : DOUBT.film;
  const normal = Float64Array.of(1 / DOUBT.ice ** 2, 0, 0, 1 / film ** 2);
  const solution = new Float64Array(2);
  for (const { amounts } of known) {
    const mean = weightedMeans(amounts);
    for (const { logRatio, sigma, byIce, byWindow } of amounts) {
      const w = 1 / sigma ** 2;
      const [ice, window, y] = [byIce - mean.byIce, byWindow - mean.byWindow, logRatio - mean.logRatio];
      normal[0] += w * ice * ice;
      normal[1] += w * ice * window;
      normal[2] += w * ice * window;
      normal[3] += w * window * window;
      solution[0] += w * ice * y;
      solution[1] += w * window * y;
    }
  }
  const factor = cholesky(normal, 2);
  solveCholesky(factor, 2, solution);
  return { solution, covariance: inverseFromCholesky(factor, 2) };
}

function beliefs(
  { iceUm, windowUm, window }: Layers,
  { solution, covariance }: LayerFit,
): Pick<LayersTold, 'ice' | 'window'> {
  const belief = (i: 0 | 1, from: number, unit: number, doubt: number): LayersTold['ice'] => ({
    before: { mean: from, sigma: doubt * unit },
    after: { mean: Math.max(0, from + solution[i] * unit), sigma: Math.sqrt(covariance[i * 3]) * unit },
  });
  return {
    ice: belief(0, iceUm, UNIT.iceUm, DOUBT.ice),
    window: belief(1, windowUm, UNIT.window * windowUm, window === 'beryllium' ? DOUBT.beryllium : DOUBT.film),
  };
}

function weightedMeans(amounts: readonly AmountEvidence[]): Pick<AmountEvidence, 'logRatio' | 'byIce' | 'byWindow'> {
  const total = amounts.reduce((sum, { sigma }) => sum + 1 / sigma ** 2, 0);
  const mean = (of: (amount: AmountEvidence) => number): number =>
    amounts.reduce((sum, amount) => sum + of(amount) / amount.sigma ** 2, 0) / total;
  return { logRatio: mean((a) => a.logRatio), byIce: mean((a) => a.byIce), byWindow: mean((a) => a.byWindow) };
}

/** Amounts may differ by this many standard deviations, and by this factor: no standardless amount is better than that for sure. */
const SIGMAS = 3;
const FACTOR = 2;

/** Amounts that layers do not explain; `distance` is the worst, 1 at the limit. */
function contradictions(
  amounts: readonly AmountEvidence[],
  solution: Float64Array,
): { distance: number; found: readonly AmountContradiction[] } {
  const mean = weightedMeans(amounts);
  const judged = amounts.map((amount) => {
    const byLayers = solution[0] * (amount.byIce - mean.byIce) + solution[1] * (amount.byWindow - mean.byWindow);
    const rest = amount.logRatio - mean.logRatio - byLayers;
    return { z: amount.z, rest, distance: Math.abs(rest) / Math.max(log(FACTOR), SIGMAS * amount.sigma) };
  });
  return {
    distance: Math.max(...judged.map(({ distance }) => distance)),
    found: judged
      .filter(({ distance }) => distance > 1)
      .map(({ z, rest }) => ({ kind: 'amount', z, times: exp(rest) })),
  };
}

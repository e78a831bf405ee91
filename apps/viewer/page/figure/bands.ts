import type { CurvesView, LayerView } from '../reading.ts';

/** A layer as it stands in the stack: its lower and upper edge over the channels where it has counts. */
export interface Band {
  readonly layer: LayerView;
  readonly runs: readonly Run[];
}

export interface Run {
  /** First and last channel. */
  readonly from: number;
  readonly to: number;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/** A layer is drawn where it adds at least this many counts, and this part of the model. */
const LEAST_COUNTS = 0.05;
const LEAST_SHARE = 0.002;

/**
 * Stacks the layers upon the background, the smallest at the bottom so that they stay visible on every scale. The top of the stack is the
 * whole model. A layer may be negative in places (an artefact that shifts counts from one side of a peak to the other).
 */
export function stack(curves: CurvesView): Band[] {
  const size = (layer: LayerView) => Array.from(layer.counts).reduce((total, value) => total + Math.abs(value), 0);
  const ordered = curves.layers
    .map((layer) => ({ layer, size: size(layer) }))
    .filter(({ size }) => size > 0)
    .sort((a, b) => a.size - b.size);
  const height = Float64Array.from(curves.background);
  return ordered.map(({ layer }) => {
    const lower = height.slice();
    for (let i = 0; i < height.length; i++) height[i] += layer.counts[i];
    return { layer, runs: runsOf(layer, curves.total, lower, height) };
  });
}

function runsOf(layer: LayerView, total: ArrayLike<number>, lower: Float64Array, upper: Float64Array): Run[] {
  const runs: Run[] = [];
  const seen = (i: number) => Math.abs(layer.counts[i]) > Math.max(LEAST_COUNTS, LEAST_SHARE * total[i]);
  for (let from = 0; from < upper.length; from++) {
    if (!seen(from)) continue;
    let to = from;
    while (to + 1 < upper.length && seen(to + 1)) to++;
    runs.push({ from, to, lower: lower.slice(from, to + 1), upper: upper.slice(from, to + 1) });
    from = to;
  }
  return runs;
}

/** The peaks of a layer, strongest first: its local maxima above a hundredth of its highest, as channels. */
export function summits(counts: ArrayLike<number>): number[] {
  let highest = 0;
  for (let i = 0; i < counts.length; i++) highest = Math.max(highest, counts[i]);
  const found: number[] = [];
  for (let i = 1; i + 1 < counts.length; i++) {
    if (counts[i] > 0.01 * highest && counts[i] > counts[i - 1] && counts[i] >= counts[i + 1]) found.push(i);
  }
  return found.sort((a, b) => counts[b] - counts[a]);
}

/** The channel whose centre lies nearest to an energy. */
export function nearestChannel(energyEv: ArrayLike<number>, wanted: number): number {
  const last = energyEv.length - 1;
  const first = energyEv[0] ?? 0;
  const gain = ((energyEv[last] ?? 1) - first) / Math.max(1, last);
  return Math.min(last, Math.max(0, Math.round((wanted - first) / gain)));
}

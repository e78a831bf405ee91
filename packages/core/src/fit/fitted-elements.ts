import { symbolOf } from '../atomic/elements.ts';
import { countsWithin } from '../model/column.ts';
import type { Scene } from './expansion.ts';
import { inflationUnder, type ChannelMisfit } from './quality.ts';
import type { SpectrumFit } from './spectrum-fit.ts';

/** What the fit says about the amount of one element. */
export interface FittedElement {
  readonly z: number;
  readonly amount: number;
  /** Standard deviation of the amount: counting, every other parameter free, inflated where the model misfits. */
  readonly sigma: number;
  /** Factor by which sigma exceeds that of the fit's covariance, >= 1. */
  readonly inflation: number;
  /** Counts of all its lines inside the fitted range, per unit amount. */
  readonly countsPerAmount: number;
  /** Correlation of its amount with others': what an overlap means; the strong ones, strongest first. */
  readonly correlations: readonly Correlation[];
}

interface Correlation {
  readonly symbol: string;
  readonly value: number;
}

/** Correlations weaker than this say nothing about an overlap. */
const NOTEWORTHY = 0.2;

export function fittedElements(
  scene: Scene,
  { zs, design, fit, expected }: SpectrumFit,
  channels: ChannelMisfit,
): ReadonlyMap<number, FittedElement> {
  const p = design.layout.size;
  const { covariance } = fit;
  const out = new Map<number, FittedElement>();
  for (let e = 0; e < zs.length; e++) {
    const { column } = design.layout.templates[e];
    const inflation = inflationUnder(column, channels, expected, scene);
    const variance = covariance[e * p + e];
    const correlations: Correlation[] = [];
    for (let f = 0; f < zs.length; f++) {
      const value = f === e ? 0 : covariance[e * p + f] / Math.sqrt(variance * covariance[f * p + f]);
      if (Math.abs(value) >= NOTEWORTHY) correlations.push({ symbol: symbolOf(zs[f]), value });
    }
    out.set(zs[e], {
      z: zs[e],
      amount: fit.coefficients[e],
      sigma: Math.sqrt(variance) * inflation,
      inflation,
      countsPerAmount: countsWithin(column, scene.range),
      correlations: correlations.sort(strongestFirst),
    });
  }
  return out;
}

const strongestFirst = (a: Correlation, b: Correlation): number => Math.abs(b.value) - Math.abs(a.value);

import { sumOver } from '../arithmetic/sum.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import type { Part } from '../identify/ledger.ts';
import { CANDIDATE_ELEMENTS } from '../identify/candidates.ts';
import type { Frame } from '../identify/state.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import { lineResponse } from '../model/instrument.ts';
import { findPeaks, type BlindPeak } from '../peaks/blind-search.ts';
import { linesForPeak } from '../peaks/match-lines.ts';
import type { Peak } from '../peaks/peak.ts';

/** A part carries a peak when it makes this share of the counts above the continuum there. */
const CARRIES = 0.25;
/** A residual bump is unexplained when it exceeds the model's own noise by this many standard deviations. */
const UNEXPLAINED_SIGMA = 5;

/** Blind peaks of the counts with the lines that could make them, and the parts of the model that carry them. */
export function peakList(frame: Frame, fit: SpectrumFit, parts: readonly Part[]): Peak[] {
  const { axis } = fit.at.instrument;
  const fwhm = (energyEv: number): number => lineResponse(fit.at.instrument, energyEv).sigmaEv * FWHM_PER_SIGMA;
  const admitted = new Set(CANDIDATE_ELEMENTS);
  return findPeaks(frame.counts, axis, frame.range, fwhm).map((peak) => ({
    ...peak,
    candidates: linesForPeak(peak.energyEv, Math.max(0.6 * peak.fwhmEv, 40), admitted, frame.beamEv),
    explainedBy: carriers(frame, fit, parts, peak),
  }));
}

/** Names of the parts that carry a peak; empty when the counts stand well above the whole model there. */
function carriers(frame: Frame, fit: SpectrumFit, parts: readonly Part[], peak: BlindPeak): string[] {
  const { axis } = fit.at.instrument;
  const half = peak.fwhmEv / 2;
  const from = Math.max(frame.range.lo, Math.round((peak.energyEv - half - axis.offsetEv) / axis.gainEv));
  const to = Math.min(frame.range.hi, Math.round((peak.energyEv + half - axis.offsetEv) / axis.gainEv) + 1);
  const measured = sumOver(frame.counts, from, to);
  const expected = sumOver(fit.expected, from, to);
  const excess = measured - expected;
  if (excess > UNEXPLAINED_SIGMA * Math.sqrt(Math.max(expected, 1)) && excess > 0.5 * peak.counts) return [];
  const continuum = sumOver(parts[0].counts, from, to);
  const above = Math.max(expected - continuum, 1);
  const found: Carrier[] = [];
  for (let k = 1; k < parts.length; k++) {
    const share = sumOver(parts[k].counts, from, to) / above;
    if (share >= CARRIES) found.push({ name: parts[k].name, share });
  }
  return found.sort(largestFirst).map(({ name }) => name);
}

interface Carrier {
  readonly name: string;
  readonly share: number;
}

const largestFirst = (a: Carrier, b: Carrier): number => b.share - a.share;

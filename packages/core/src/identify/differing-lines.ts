import { sumOver } from '../arithmetic/sum.ts';
import { FWHM_PER_SIGMA } from '../detector/resolution.ts';
import type { LineGroup } from '../model/groups.ts';
import { lineResponse, type Instrument } from '../model/instrument.ts';
import { emittedGroups } from '../model/templates.ts';

/** Most lines told. */
const MOST = 4;
/** A line tells two explanations apart when they differ there by this many standard deviations of the counts. */
const TELLING = 1.5;
/** Fewest channels that a line is judged on. */
const FEWEST_CHANNELS = 2;

/** A line group at which two explanations differ, with the counts of each within one FWHM around it. */
export interface DifferingLine {
  readonly group: LineGroup;
  readonly energyEv: number;
  /** Channels [from, to). */
  readonly from: number;
  readonly to: number;
  readonly first: number;
  readonly second: number;
  /** Difference in standard deviations of the first. */
  readonly weight: number;
}

/**
 * The lines at which two explanations differ most, strongest first: what settles a verdict, and what a plan tells to look at.
 * @param zs elements whose lines are looked at   @param areas detected area of every line, LINE_TABLE order
 * @param first expected counts per channel under one explanation   @param second under the other
 */
export function differingLines(
  zs: readonly number[],
  areas: Float64Array,
  instrument: Instrument,
  range: { readonly lo: number; readonly hi: number },
  first: Float64Array,
  second: Float64Array,
): DifferingLine[] {
  const { offsetEv, gainEv } = instrument.axis;
  const lines: DifferingLine[] = [];
  for (const { group, energyEv } of zs.flatMap((z) => emittedGroups(z, areas))) {
    const half = (lineResponse(instrument, energyEv).sigmaEv * FWHM_PER_SIGMA) / 2;
    const from = Math.max(range.lo, Math.round((energyEv - half - offsetEv) / gainEv));
    const to = Math.min(range.hi, Math.round((energyEv + half - offsetEv) / gainEv) + 1);
    if (to - from < FEWEST_CHANNELS) continue;
    const [a, b] = [sumOver(first, from, to), sumOver(second, from, to)];
    const weight = Math.abs(a - b) / Math.sqrt(Math.max(a, 1));
    if (weight >= TELLING) lines.push({ group, energyEv, from, to, first: a, second: b, weight });
  }
  return lines.sort(mostTellingFirst).slice(0, MOST);
}

const mostTellingFirst = (a: DifferingLine, b: DifferingLine): number => b.weight - a.weight || a.energyEv - b.energyEv;

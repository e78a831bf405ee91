import { Rack } from '../arithmetic/scratch.ts';
import { sizeFor } from '../arithmetic/fourier.ts';
import { columnFrom, spreadOut, type Column } from './column.ts';
import { createSmear, smeared, type Smear } from './smear.ts';
import { channelEnergies, channelOf, lineResponse, lineSigma, type Instrument } from './instrument.ts';
import type { Member } from './nuisances.ts';
import { addGaussian } from './peak-shape.ts';
import { inverses, product, transforms, twiceLess } from './real-transforms.ts';
import { lifted, slate } from './slate.ts';

/**
 * Sum peaks: two photons, or three, that arrive together are recorded as one at the sum of their energies. Charges of a sum are
 * measured once, so the electronic noise counts once in its width: sums are made of line sticks and smeared at the sum energy.
 * Measured: 2 x Si K is 128 eV wide at 4 million counts, 122 so predicted, 146 by folding the recorded spectrum with itself.
 * Source: Poisson arrivals, first order: pile-up spectrum = t (n * n); sizes and widths from measured spectra.
 */
export interface SumPeaks {
  /** All pairs at one common rate. Scaled so that a coefficient of 1 would move every count once. */
  readonly pairs: Column;
  /** The same for triples. */
  readonly triples: Column;
  /** Pairs with a partner in a soft band, which the fast channel hardly sees, and how they move with its energy (per eV). */
  readonly soft: readonly { readonly column: Column; readonly shift: Column }[];
  /** Pairs of strong families one by one, how they move (per eV), and how far their rate may differ from the common one, relative; largest first. */
  readonly strong: readonly { readonly column: Column; readonly shift: Column; readonly doubt: number }[];
}

/** Below about 1 keV the fast channel is blind to more and more photons, eV: such pairs have the rate of their band. */
const SOFT_BELOW_EV = 1000;
const SOFT_BANDS: readonly (readonly [number, number])[] = [
  [0, 450],
  [450, SOFT_BELOW_EV],
];
/** A soft band with fewer counts leaves no sums to be seen. */
const MIN_SOFT_COUNTS = 2000;
/** Families with this share of the counts have pairs with rates of their own, the strongest pairs only. */
const STRONG_SHARE = 0.01;
const MOST_PAIRS = 24;
/** A pair that differs by fewer counts is no peak. */
const FEWEST_IN_PAIR = 15;

/** Standard deviations up to which sums are smeared, lest a strong one end in a step. */
const REACH = 5.5;

/** Smears sums over all n channels of the axis. */
export function sumSmear(instrument: Instrument, n: number): Smear {
  return createSmear(instrument, channelEnergies(instrument.axis, n), 0, n, REACH);
}

/** What sums are measured by. */
export interface SumScale {
  /** First channel of the fitted range. */
  readonly lo: number;
  /** All counts of the spectrum: rates are per count. */
  readonly total: number;
  /** The common rate of pairs, per count; at least what can be told from nothing. */
  readonly rate: number;
}

/** A line as it is before the detector's noise: counts at one energy. */
interface Stick {
  readonly energyEv: number;
  readonly counts: number;
}

/**
 * @param members elements of the explanation with their amounts
 * @param background continuum counts per channel, length n
 * @param smear of this instrument, by {@link sumSmear}
 */
export function sumPeaks(
  members: readonly Member[],
  background: Float64Array,
  instrument: Instrument,
  smear: Smear,
  { lo, total, rate }: SumScale,
): SumPeaks {
  const n = background.length;
  const families = familiesOf(members, instrument);
  const sticks = families.flat();
  const bands = SOFT_BANDS.map(([from, to]) => sticks.filter(({ energyEv }) => energyEv >= from && energyEv < to));
  const [pairs, triples, ...soft] = folded(
    sticks,
    background,
    bands.filter((band) => countsOf(band) >= MIN_SOFT_COUNTS),
    { instrument, smear, lo, total },
  );
  return {
    pairs,
    triples,
    soft: soft.map((column) => ({
      column,
      shift: columnFrom(slope(spreadOut(column, n), instrument.axis.gainEv), 0),
    })),
    strong: strongPairs(families, total, rate).map(({ a, b, doubt }) => ({
      ...pairColumn(a, b, instrument, n, total),
      doubt,
    })),
  };
}

/** Sticks of each family (K, L, M) of each element. */
function familiesOf(members: readonly Member[], instrument: Instrument): Stick[][] {
  const families: Stick[][] = [];
  for (const { groups, amount } of members) {
    const byFamily = new Map<string, Stick[]>();
    for (const { group, area, energyEv } of groups) {
      const stick = { energyEv: lineResponse(instrument, energyEv).centreEv, counts: area * amount };
      const family = byFamily.get(group.family);
      if (family) family.push(stick);
      else byFamily.set(group.family, [stick]);
    }
    families.push(...byFamily.values());
  }
  return families;
}

const countsOf = (sticks: readonly Stick[]): number => sticks.reduce((sum, { counts }) => sum + counts, 0);

/**
 * How far the rate of a pair may differ from the common one, relative to it: where the beam meets grains of several phases in turn (a map,
 * an area), photons of one phase meet each other in its share of the time, which may be no more than its share of the counts, and those
 * of another never. Size: measured maps, sums of two measured spectra.
 */
const PAIR_DOUBT = 0.5;
const doubtOf = (a: readonly Stick[], b: readonly Stick[], total: number): number =>
  PAIR_DOUBT * Math.max(1, total / (2 * (countsOf(a) + (a === b ? 0 : countsOf(b)))));

interface StrongPair {
  readonly a: Stick[];
  readonly b: Stick[];
  readonly doubt: number;
  /** Counts by which it may differ from the common rate. */
  readonly size: number;
}

function strongPairs(families: readonly Stick[][], total: number, rate: number): StrongPair[] {
  const strong = families.filter((family) => countsOf(family) > STRONG_SHARE * total);
  const pairs = strong.flatMap((a, i) =>
    strong.slice(i).map((b): StrongPair => {
      const doubt = doubtOf(a, b, total);
      return { a, b, doubt, size: (doubt * rate * countsOf(a) * countsOf(b)) / total };
    }),
  );
  return pairs
    .filter(({ size }) => size > FEWEST_IN_PAIR)
    .sort((p, q) => q.size - p.size)
    .slice(0, MOST_PAIRS);
}

/** Sums of one family with another or with itself, scaled like the common ones. */
function pairColumn(
  a: readonly Stick[],
  b: readonly Stick[],
  instrument: Instrument,
  n: number,
  total: number,
): { column: Column; shift: Column } {
  const [value, shift, width] = [slate(n), slate(n), slate(n)];
  const ways = a === b ? 1 : 2;
  for (const one of a) {
    for (const other of b) {
      const energy = one.energyEv + other.energyEv;
      addGaussian(
        value,
        instrument.axis,
        energy,
        lineSigma(instrument, energy),
        (ways * one.counts * other.counts) / total,
        {
          shift,
          width,
        },
      );
    }
  }
  lifted(width);
  return { column: lifted(value), shift: lifted(shift) };
}

interface Folding {
  readonly instrument: Instrument;
  readonly smear: Smear;
  readonly lo: number;
  readonly total: number;
}

/**
 * Folds sticks and continuum with each other by transform, zero of energy respected, and smears the sums: pairs and triples of all, then
 * for each band the pairs with a partner in it.
 */
function folded(
  sticks: readonly Stick[],
  background: Float64Array,
  bands: readonly (readonly Stick[])[],
  { instrument: { axis }, smear, lo, total }: Folding,
): Column[] {
  const n = background.length;
  const size = sizeFor(3 * n);
  ROOM.clear();
  const zero = Math.round(channelOf(axis, 0));
  // Shares of all counts, so that pairs and triples are of one size and one transform serves two.
  const everything = sharesByEnergy(sticks, axis.gainEv, size, total);
  for (let i = Math.max(lo, zero); i < n; i++) everything[i - zero] += Math.max(0, background[i]) / total;
  const [all, ...partners] = transforms(
    [everything, ...bands.map((band) => sharesByEnergy(band, axis.gainEv, size, total))],
    ROOM,
  );
  const pairs = product(all, all, ROOM);
  // Two of the band make one sum, one of it and one of the rest two: whichever comes first.
  const soft = partners.map((partner) => product(partner, twiceLess(all, partner, ROOM), ROOM));
  return inverses([pairs, product(pairs, all, ROOM), ...soft], size, ROOM).map((sums) =>
    columnFrom(smeared(smear, placed(sums, axis, n, total)), 0),
  );
}

/** For all that is made on the way from sticks to columns. */
const ROOM = new Rack();

/** Counts by energy in whole channels above zero energy, each stick shared between its two neighbours; relative to the total. */
function sharesByEnergy(lines: readonly Stick[], gainEv: number, size: number, total: number): Float64Array {
  const out = ROOM.zeros(size);
  for (const { energyEv, counts } of lines) {
    const at = energyEv / gainEv;
    const whole = Math.floor(at);
    if (whole < 0 || whole + 1 >= size) continue;
    out[whole] += (counts / total) * (whole + 1 - at);
    out[whole + 1] += (counts / total) * (at - whole);
  }
  return out;
}

/** Rounding noise of the transforms, relative to the largest value: what is smaller is 0. */
const NOISE = 1e-10;

/** Sums by energy, per channel of the axis: whose channels may lie between those of the sums. */
function placed(sums: Float64Array, axis: Instrument['axis'], n: number, total: number): Float64Array {
  const zero = Math.round(channelOf(axis, 0));
  const shift = zero - channelOf(axis, 0);
  const [near, far, step] = shift >= 0 ? [1 - shift, shift, 1] : [1 + shift, -shift, -1];
  let highest = 0;
  for (let k = 0; k < sums.length; k++) if (sums[k] > highest) highest = sums[k];
  const out = ROOM.zeros(n);
  const least = NOISE * highest;
  // Below zero energy there is nothing, and beyond the sums nothing either.
  for (let i = Math.max(0, zero - 1), k = i - zero; i < n; i++, k++) {
    const value = (k >= 0 ? near * sums[k] : 0) + (k + step >= 0 ? far * sums[k + step] : 0);
    if (value > least) out[i] = value * total;
  }
  return out;
}

/** Change per eV when the shape moves up. */
function slope(values: Float64Array, gainEv: number): Float64Array {
  const n = values.length;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) out[i] = ((i > 0 ? values[i - 1] : 0) - (i + 1 < n ? values[i + 1] : 0)) / (2 * gainEv);
  return out;
}

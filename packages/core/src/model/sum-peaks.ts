import { reimFFT } from 'ml-spectra-processing';
import { columnOf, type Column } from './column.ts';
import { createSmear } from './smear.ts';
import { channelEnergies, channelOf, lineResponse, type Instrument } from './instrument.ts';
import type { Member } from './nuisances.ts';
import { addGaussian } from './peak-shape.ts';

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
  /** Pairs of strong families one by one, and how they move (per eV); strongest first. */
  readonly strong: readonly { readonly column: Column; readonly shift: Column }[];
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
/** Fewest counts in a pair worth a column, were the common rate a tenth. */
const MIN_PAIR_COUNTS = 1000;

/** Standard deviations up to which sums are smeared, lest a strong one end in a step. */
const REACH = 5.5;

/** A line as it is before the detector's noise: counts at one energy. */
interface Stick {
  readonly energyEv: number;
  readonly counts: number;
}

/**
 * @param members elements of the explanation with their amounts
 * @param background continuum counts per channel, length n
 * @param total all counts of the spectrum: rates are per count
 */
export function sumPeaks(
  members: readonly Member[],
  background: Float64Array,
  instrument: Instrument,
  lo: number,
  total: number,
): SumPeaks {
  const n = background.length;
  const families = familiesOf(members, instrument);
  const sticks = families.flat();
  const fold = createFold(instrument, background, sticks, lo, total);
  return {
    ...fold.all(),
    soft: SOFT_BANDS.flatMap(([from, to]) => {
      const band = sticks.filter(({ energyEv }) => energyEv >= from && energyEv < to);
      return countsOf(band) < MIN_SOFT_COUNTS ? [] : [fold.with(band)];
    }),
    strong: strongPairs(families, total).map(([a, b]) => pairColumn(a, b, instrument, n, total)),
  };
}

/** Sticks of each family (K, L, M) of each element. */
function familiesOf(members: readonly Member[], instrument: Instrument): Stick[][] {
  return members.flatMap(({ groups, amount }) => {
    const byFamily = new Map<string, Stick[]>();
    for (const { group, area, energyEv } of groups) {
      const stick = { energyEv: lineResponse(instrument, energyEv).centreEv, counts: area * amount };
      const family = byFamily.get(group.family);
      if (family) family.push(stick);
      else byFamily.set(group.family, [stick]);
    }
    return [...byFamily.values()];
  });
}

const countsOf = (sticks: readonly Stick[]): number => sticks.reduce((sum, { counts }) => sum + counts, 0);

function strongPairs(families: readonly Stick[][], total: number): [Stick[], Stick[]][] {
  const strong = families.filter(
    (family) => countsOf(family) > STRONG_SHARE * total && family.every(({ energyEv }) => energyEv >= SOFT_BELOW_EV),
  );
  const pairs = strong.flatMap((a, i) => strong.slice(i).map((b): [Stick[], Stick[]] => [a, b]));
  const size = ([a, b]: [Stick[], Stick[]]): number => (countsOf(a) * countsOf(b)) / total;
  return pairs
    .filter((pair) => size(pair) > MIN_PAIR_COUNTS)
    .sort((p, q) => size(q) - size(p))
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
  const [value, shift, width] = [0, 1, 2].map(() => new Float64Array(n)) as [Float64Array, Float64Array, Float64Array];
  const ways = a === b ? 1 : 2;
  for (const one of a) {
    for (const other of b) {
      const energy = one.energyEv + other.energyEv;
      const { sigmaEv } = lineResponse(instrument, energy);
      addGaussian(value, instrument.axis, energy, sigmaEv, (ways * one.counts * other.counts) / total, {
        shift,
        width,
      });
    }
  }
  return { column: columnOf(value), shift: columnOf(shift) };
}

interface Fold {
  all(): { readonly pairs: Column; readonly triples: Column };
  with(band: readonly Stick[]): { readonly column: Column; readonly shift: Column };
}

/** Folds sticks and continuum with each other by transform, zero of energy respected, and smears the sums. */
function createFold(
  instrument: Instrument,
  background: Float64Array,
  sticks: readonly Stick[],
  lo: number,
  total: number,
): Fold {
  const n = background.length;
  const { axis } = instrument;
  const size = 2 ** Math.ceil(Math.log2(3 * n));
  const zero = Math.round(channelOf(axis, 0));
  const smear = createSmear(instrument, channelEnergies(axis, n), 0, n, REACH);
  /** Counts by energy in whole channels above zero energy, each stick shared between its two neighbours. */
  const spread = (lines: readonly Stick[], continuum: Float64Array | null): Float64Array => {
    const out = new Float64Array(size);
    for (const { energyEv, counts } of lines) {
      const at = energyEv / axis.gainEv;
      const whole = Math.floor(at);
      if (whole < 0 || whole + 1 >= size) continue;
      out[whole] += counts * (whole + 1 - at);
      out[whole + 1] += counts * (at - whole);
    }
    if (continuum) for (let i = Math.max(lo, zero); i < n; i++) out[i - zero] += Math.max(0, continuum[i]);
    return out;
  };
  const transformed = (re: Float64Array): Transform => reimFFT({ re, im: new Float64Array(size) }, { inPlace: true });
  const everything = transformed(spread(sticks, background));
  /** Back from a transform: per channel of the axis, smeared. @param scale counts per count */
  const back = (sums: Transform, scale: number): Column => {
    const { re } = reimFFT(sums, { inverse: true, inPlace: true });
    const shift = zero - channelOf(axis, 0);
    const at = (k: number): number => (k >= 0 && k < size ? re[k] : 0);
    const highest = re.reduce((most, value) => Math.max(most, value), 0);
    const placed = Float64Array.from({ length: n }, (_, i) => {
      // Energy of channel i in channels above zero energy: fractional, so a sum is shared between its two neighbours.
      const k = i - zero;
      const value = shift >= 0 ? (1 - shift) * at(k) + shift * at(k + 1) : (1 + shift) * at(k) - shift * at(k - 1);
      return value > NOISE * highest ? value * scale : 0;
    });
    return columnOf(smear(placed));
  };
  return {
    all: () => ({
      pairs: back(product(everything, everything), 1 / total),
      triples: back(product(product(everything, everything), everything), 1 / total ** 2),
    }),
    with: (band) => {
      const partner = transformed(spread(band, null));
      // Two of the band make one sum, one of it and one of the rest two: whichever comes first.
      const others = { re: twiceLess(everything.re, partner.re), im: twiceLess(everything.im, partner.im) };
      const column = back(product(partner, others), 1 / total);
      return { column, shift: columnOf(slope(column.values, axis.gainEv)) };
    },
  };
}

/** Rounding noise of the transforms, relative to the largest value: what is smaller is 0. */
const NOISE = 1e-10;

interface Transform {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

function product(a: Transform, b: Transform): Transform {
  return {
    re: a.re.map((value, k) => value * b.re[k] - a.im[k] * b.im[k]),
    im: a.re.map((value, k) => value * b.im[k] + a.im[k] * b.re[k]),
  };
}

const twiceLess = (a: Float64Array, b: Float64Array): Float64Array => a.map((value, k) => 2 * value - b[k]);

/** Change per eV when the shape moves up. */
function slope(values: Float64Array, gainEv: number): Float64Array {
  return values.map((_, i) => ((values[i - 1] ?? 0) - (values[i + 1] ?? 0)) / (2 * gainEv));
}

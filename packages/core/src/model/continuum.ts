import { log } from '../arithmetic/exponential.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import type { MassFractions } from '../atomic/composition.ts';
import type { Detector } from '../detector/detector.ts';
import type { Emission } from '../emission/thick/characteristic.ts';
import { columnFrom, type Column } from './column.ts';
import { efficiencyTable, placesOf, type Places } from './efficiency-table.ts';
import { channelEnergies, type Instrument } from './instrument.ts';
import { createSmear, smeared, type Smear } from './smear.ts';

/** Continuum as detected (counts per channel on the emission's own scale), and by what it may be wrong. */
export interface DetectedContinuum {
  readonly counts: Float64Array;
  /** The same under one changed assumption each, a standard uncertainty away. */
  readonly variants: readonly Float64Array[];
}

/**
 * What may be wrong with the layers that the continuum passes, as one standard uncertainty each. They leave steps at
 * absorption edges (C, N, O, Al, Si) that a smooth factor cannot follow and a soft line would otherwise be made of.
 * Typical makers' tolerances and ageing (common practice, no source).
 */
export const LAYER_DOUBTS: Readonly<
  Record<'window' | 'film' | 'aluminium' | 'deadLayer' | 'ice', (detector: Detector) => Partial<Detector>>
> = {
  window: ({ windowUm }) => ({ windowUm: windowUm * 1.25 }),
  // A film of silicon nitride instead of a polymer: it has an edge of nitrogen and none of carbon.
  film: ({ window }) => (window === 'polymer' ? { window: 'silicon-nitride', windowUm: 0.04 } : {}),
  aluminium: ({ aluminiumNm }) => ({ aluminiumNm: aluminiumNm * 1.5 }),
  deadLayer: ({ deadLayerUm }) => ({ deadLayerUm: deadLayerUm + 0.05 }),
  ice: ({ iceUm }) => ({ iceUm: iceUm + 0.1 }),
};

/** Uncertainty of the attenuation along the way out of the specimen, relative (path, composition and coefficient). */
const ATTENUATION_DOUBT = 0.12;

/** Channels beyond the range whose continuum is smeared into it. */
const MARGIN = 30;
/** Standard deviations up to which the continuum is smeared: it has no peaks that would end in a step. */
const REACH = 3.5;
/** Lowest photon energy considered, eV. */
const LOWEST_EV = 50;
/** The continuum behind the detector, smeared by its resolution, over channels [lo, hi). */
export function detectedContinuum(
  emission: Emission,
  composition: MassFractions,
  instrument: Instrument,
  n: number,
  lo: number,
  hi: number,
): DetectedContinuum {
  const { axis, detector } = instrument;
  const from = Math.max(lo - MARGIN, Math.ceil((LOWEST_EV - axis.offsetEv) / axis.gainEv));
  // Beyond the axis too: what lies there is smeared into its last channels.
  const to = hi + MARGIN;
  const energies = channelEnergies(axis, Math.max(0, to - from), from);
  const [emitted, attenuated] = emission.continua(composition, energies, [1, 1 + ATTENUATION_DOUBT]);
  const place = { smear: createSmear(instrument, energies, from, n, REACH, KERNELS), places: placesOf(energies) };
  const usual = efficiencyKey(detector);
  const layers = Object.values(LAYER_DOUBTS)
    .map((change) => ({ ...detector, ...change(detector) }))
    .filter((changed) => efficiencyKey(changed) !== usual);
  return {
    counts: detected(emitted, detector, place),
    variants: [...layers.map((changed) => detected(emitted, changed, place)), detected(attenuated, detector, place)],
  };
}

const [KERNELS, SEEN] = [new Scratch(), new Scratch()];

/** What a detector counts of photons at some places. */
function detected(
  photons: Float64Array,
  detector: Detector,
  { smear, places }: { readonly smear: Smear; readonly places: Places },
): Float64Array {
  const seen = SEEN.of(photons.length);
  efficiencyTable(detector).atPlaces(places, seen);
  for (let k = 0; k < seen.length; k++) seen[k] = photons[k] > 0 ? photons[k] * seen[k] : 0;
  return smeared(smear, seen);
}

/** Tells whether a change of layers changes anything for this window. */
function efficiencyKey(detector: Detector): number {
  const table = efficiencyTable(detector);
  return table.at(350) + table.at(600) + table.at(1600);
}

/**
 * Columns by which the fitted continuum may bend, one per variant; a coefficient of 1 is one standard uncertainty.
 * @param background continuum counts per channel as fitted so far
 */
export function continuumDoubts(
  background: Float64Array,
  continuum: DetectedContinuum,
  lo: number,
  hi: number,
): Column[] {
  return continuum.variants.map((variant) => doubtOf(background, continuum.counts, variant, lo, hi));
}

function doubtOf(
  background: Float64Array,
  counts: Float64Array,
  variant: Float64Array,
  lo: number,
  hi: number,
): Column {
  const out = new Float64Array(background.length);
  for (let i = lo; i < hi; i++) {
    const ratio = variant[i] / counts[i];
    if (ratio > 0 && Number.isFinite(ratio)) out[i] = Math.max(background[i], 0) * log(ratio);
  }
  return columnFrom(out, 0);
}

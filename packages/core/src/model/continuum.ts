import { log } from '../arithmetic/exponential.ts';
import type { MassFractions } from '../atomic/composition.ts';
import type { Detector } from '../detector/detector.ts';
import type { Emission } from '../emission/thick/characteristic.ts';
import { columnFrom, type Column } from './column.ts';
import { efficiencyTable, placesOf } from './efficiency-table.ts';
import type { Instrument } from './instrument.ts';
import { createSmear } from './smear.ts';

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
  const energies = Float64Array.from(
    { length: Math.max(0, to - from) },
    (_, k) => axis.offsetEv + axis.gainEv * (from + k),
  );
  const [emitted, attenuated] = emission.continua(composition, energies, [1, 1 + ATTENUATION_DOUBT]);
  const smear = createSmear(instrument, energies, from, n, REACH);
  const places = placesOf(energies);
  const detected = (photons: Float64Array, seenBy: Detector): Float64Array => {
    const seen = efficiencyTable(seenBy).atPlaces(places);
    for (let k = 0; k < seen.length; k++) seen[k] = photons[k] > 0 ? photons[k] * seen[k] : 0;
    return smear(seen);
  };
  const usual = efficiencyKey(detector);
  const layers = Object.values(LAYER_DOUBTS)
    .map((change) => ({ ...detector, ...change(detector) }))
    .filter((changed) => efficiencyKey(changed) !== usual);
  return {
    counts: detected(emitted, detector),
    variants: [...layers.map((changed) => detected(emitted, changed)), detected(attenuated, detector)],
  };
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
  return continuum.variants.map((variant) => {
    const out = new Float64Array(background.length);
    for (let i = lo; i < hi; i++) {
      const ratio = variant[i] / continuum.counts[i];
      if (ratio > 0 && Number.isFinite(ratio)) out[i] = Math.max(background[i], 0) * log(ratio);
    }
    return columnFrom(out, 0);
  });
}

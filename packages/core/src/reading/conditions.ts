import { log } from '../arithmetic/exponential.ts';
import { continuumEndEv, landingEnergyEv, prolongedEndEv } from '../peaks/beam-energy.ts';
import type { Observations } from '../evidence/observations.ts';
import type { ReferenceGrain } from '../evidence/reference-grain.ts';
import type { OxygenBy } from '../identify/amounts.ts';
import type { InstrumentKnowledge } from '../model/instrument-knowledge.ts';
import type { ImageNeighbour } from '../pigments/brightness.ts';
import type { OwnMaterials } from '../pigments/own-materials.ts';
import type { Stated } from '../record/stated.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { WarningData } from '../telling/words/warnings.ts';
import type { ClaimGiven } from './asked.ts';

/** What decides how a spectrum is explained, whatever is asked of it afterwards. */
export interface PrepareOptions {
  /** Names of what the mounting may add, see MOUNT_NAMES. */
  readonly mount?: readonly string[];
  /** What someone says is there: each element is tested like the tool's own. */
  readonly claim?: readonly ClaimGiven[];
  /** Symbols that may not be used: what would the counts need instead? */
  readonly without?: readonly string[];
  /** Beam energy, keV; wins over the header. */
  readonly beamKev?: number;
  /** Take-off angle, degrees; wins over the header. */
  readonly takeOffDeg?: number;
  /** What other spectra of the session tell of the instrument, see `shareInstrument`. */
  readonly instrument?: InstrumentKnowledge | null;
}

/** Of a spectrum that is read on its own, for what it says of the instrument. */
export type AloneOptions = Omit<PrepareOptions, 'claim' | 'instrument'>;

/** All that `identify` can be asked: what decides how a spectrum is explained, and what is then asked of the explanation. */
export interface IdentifyOptions extends PrepareOptions {
  /** Where the amount of oxygen comes from: its line (default), or the usual oxides of the other elements. */
  readonly oxygen?: OxygenBy;
  /** Stated year of the object, BCE negative: anachronisms are flagged. */
  readonly dated?: number;
  /** Beside what the grain looked brighter or darker in the backscatter image. */
  readonly image?: readonly ImageNeighbour[];
  /** Your own materials, added to Limner's or replacing those with the same id. */
  readonly pigments?: OwnMaterials | null;
  /** What else was seen of the grain. */
  readonly seen?: Observations | null;
  /** Known materials taken with the same instrument, see `readReference`. */
  readonly references?: readonly ReferenceGrain[];
}

export interface Conditions {
  readonly beamKev: Stated;
  readonly takeOffDeg: Stated;
  readonly warnings: readonly WarningData[];
}

/** Common take-off angle of instruments whose header is silent, degrees (common practice, no source: 30 to 40). */
const DEFAULT_TAKE_OFF_DEG = 35;
/** Assumed when neither header, option nor continuum tell the beam energy, keV. */
const DEFAULT_BEAM_KEV = 20;
/** Header and end of the continuum disagree beyond this, relative. */
const BEAM_TOLERANCE = 0.12;

/** Beam energies that instruments are set to, keV (common practice, no source). */
const USUAL_KEV = [5, 8, 10, 12, 15, 20, 25, 30];
/** The last counts before the end are few: what is read off it lies up to this much beside the truth, relative. */
const END_UNCERTAINTY = 0.13;

/** No beam lies below, eV: what ends there is no continuum. */
const LEAST_BEAM_EV = 500;

const possible = (endEv: number | null): number | null => (endEv !== null && endEv >= LEAST_BEAM_EV ? endEv : null);

/** The usual beam energy nearest to one that was read off the continuum, where one is near; keV. */
function usualNear(kev: number): number {
  const distance = (usual: number): number => Math.abs(log(usual / kev));
  const nearest = USUAL_KEV.reduce((best, usual) => (distance(usual) < distance(best) ? usual : best));
  return distance(nearest) < END_UNCERTAINTY ? nearest : Number(kev.toFixed(1));
}

/** Settles beam energy and take-off angle: option, then header, then (energy) the end of the continuum. */
export function conditionsOf(spectrum: Spectrum, options: PrepareOptions): Conditions {
  const warnings: WarningData[] = [];
  const endEv = possible(continuumEndEv(spectrum.counts, spectrum.axis));
  const stated = options.beamKev ?? spectrum.beamKev;
  let beamKev: Stated;
  if (stated !== null && stated !== undefined && stated > 0) {
    beamKev = { value: stated, origin: options.beamKev === undefined ? 'header' : 'option' };
    const landing = possible(landingEnergyEv(spectrum.counts, spectrum.axis, stated * 1000));
    if (landing !== null) {
      beamKev = { value: Number((landing / 1000).toFixed(1)), origin: 'estimated' };
      warnings.push({ code: 'beam-above-continuum', usedKev: beamKev.value, statedKev: stated });
    }
    if (endEv !== null && endEv > stated * 1000 * (1 + BEAM_TOLERANCE)) {
      warnings.push({ code: 'beam-below-continuum', endKev: endEv / 1000, statedKev: stated });
    }
  } else if (endEv !== null) {
    beamKev = { value: usualNear(endEv / 1000), origin: 'estimated' };
    warnings.push({ code: 'beam-estimated', usedKev: beamKev.value });
  } else {
    const axisEnd = (spectrum.axis.offsetEv + spectrum.axis.gainEv * spectrum.counts.length) / 1000;
    const prolonged = possible(prolongedEndEv(spectrum.counts, spectrum.axis));
    const assumed = prolonged === null ? Math.max(DEFAULT_BEAM_KEV, Math.ceil(axisEnd)) : Math.ceil(prolonged / 1000);
    beamKev = { value: assumed, origin: 'default' };
    warnings.push({ code: 'beam-assumed', usedKev: beamKev.value });
  }
  return { beamKev, takeOffDeg: takeOffOf(spectrum, options), warnings };
}

function takeOffOf(spectrum: Spectrum, options: PrepareOptions): Stated {
  if (options.takeOffDeg !== undefined) return { value: options.takeOffDeg, origin: 'option' };
  const header = spectrum.takeOffDeg;
  if (header !== null && header >= 5 && header <= 90) return { value: header, origin: 'header' };
  return { value: DEFAULT_TAKE_OFF_DEG, origin: 'default' };
}

import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** A Gaussian belief: mean and standard uncertainty. */
export interface Believed {
  readonly mean: number;
  readonly sigma: number;
}

/** What other spectra of an instrument and day tell of it; takes the place of what is usual of any instrument. */
export interface InstrumentKnowledge {
  /** Spectra that it was learned from, the one to be read not among them. */
  readonly spectra: number;
  readonly axis: EnergyAxis;
  /** Energy at which the axis' position is known independently of its gain, eV. */
  readonly pivotEv: number;
  readonly positionSigmaEv: number;
  /** Relative. */
  readonly gainSigma: number;
  /** Electronic noise as FWHM, eV. */
  readonly noiseEv: Believed;
  readonly fano: Believed;
  /** Coefficients of the flat shelf, the detector's own silicon peak and pile-up, where known. */
  readonly artefacts: Readonly<Partial<Record<SharedArtefact, Believed>>>;
  /** Whether the detector sits behind a thick window; null when not known. */
  readonly thickWindow: boolean | null;
  /** What reference materials taught. */
  readonly taught: Taught;
}

/** What reference materials teach about an instrument beyond its axis and resolution. */
export interface Taught {
  readonly ratios: readonly RatioBelief[];
  /** Layers in front of the crystal, um. */
  readonly layers: { readonly iceUm?: number; readonly windowUm?: number };
  readonly findings: readonly ReferenceFinding[];
}

/** A belief that reference materials changed. */
export interface ReferenceFinding {
  /** Element that it is about; null: the detector. */
  readonly z: number | null;
  readonly quantity: string;
  /** Names of their spectra. */
  readonly by: readonly string[];
  readonly before: Believed;
  readonly after: Believed;
}

export const UNTAUGHT: Taught = { ratios: [], layers: {}, findings: [] };

export type SharedArtefact = 'charge shelf' | 'detector silicon' | 'sum peaks';

/** Deviation of a line group or family from the modelled ratio, relative. */
export interface RatioBelief extends Believed {
  readonly z: number;
  readonly kind: 'family-ratio' | 'group-ratio';
  readonly label: string;
  /** Standard uncertainty of any instrument and specimen. */
  readonly usualSigma: number;
}

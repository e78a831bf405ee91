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
  /** Layers in front of the crystal that known materials have told, um. */
  readonly layers: { readonly iceUm?: number; readonly windowUm?: number };
  /** Line ratios that known materials have told. */
  readonly ratios: readonly RatioBelief[];
}

export type SharedArtefact = 'charge shelf' | 'detector silicon' | 'sum peaks';

/** Deviation of a line group or family from the modelled ratio, relative. */
export interface RatioBelief extends Believed {
  readonly z: number;
  readonly kind: 'family-ratio' | 'group-ratio';
  readonly label: string;
}

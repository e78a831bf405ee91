import { DEFAULT_DETECTOR, type Detector } from './detector.ts';
import { noiseFor } from './resolution.ts';

/** FWHM at Mn Ka of lithium-drifted crystals, eV: typical 133 to 145, common practice, no source. */
const LITHIUM_FWHM_EV = 138;

/** Lithium-drifted crystal of 3 mm; common practice, no source. */
const LITHIUM_DRIFTED = {
  deadLayerUm: 0.1, // typical 0.05 to 0.2
  thicknessMm: 3,
  contact: 'gold',
  contactNm: 22, // 22.4 +- 3.5 nm, measured by Au L fluorescence on a Si(Li) array
} as const;

const BERYLLIUM = { window: 'beryllium', aluminiumNm: 0, openFraction: 1, gridUm: 0 } as const;

/**
 * Detectors by crystal and window. Thicknesses without a source are common practice; those of a file's header
 * (from-header.ts) come before them. Names: drift = silicon drift detector, lithium = lithium-drifted silicon.
 */
export const DETECTORS = {
  /** The default: 0.3 um polymer, 40 nm aluminium, silicon grid 77 % open. */
  'drift-polymer': DEFAULT_DETECTOR,
  /** 0.1 um silicon nitride (40 to 100 nm are made) with 30 nm aluminium on a silicon grid. */
  'drift-nitride': { ...DEFAULT_DETECTOR, window: 'silicon-nitride', windowUm: 0.1, aluminiumNm: 30 },
  /** 8 um beryllium: the thinnest that is vacuum-tight and light-tight. */
  'drift-beryllium': { ...DEFAULT_DETECTOR, ...BERYLLIUM, windowUm: 8 },
  /** No window: the aluminium that keeps light out lies on the crystal. */
  'drift-open': { ...DEFAULT_DETECTOR, window: 'none', aluminiumNm: 0, openFraction: 1, gridUm: 0, contactNm: 30 },
  'lithium-polymer': lithium({}),
  /** 8 um beryllium; 25 um were usual before. */
  'lithium-beryllium': lithium({ ...BERYLLIUM, windowUm: 8 }),
} as const satisfies Record<string, Detector>;

/** A key of `DETECTORS`: crystal and window. */
export type DetectorName = keyof typeof DETECTORS;

function lithium(window: Partial<Detector>): Detector {
  const detector = { ...DEFAULT_DETECTOR, ...LITHIUM_DRIFTED, ...window };
  return { ...detector, noiseEv: noiseFor(detector, LITHIUM_FWHM_EV) };
}

/** A silicon detector behind its window. Thicknesses are those a photon crosses at normal incidence. */
export interface Detector {
  /** Material of the window. Films (polymer, silicon nitride) carry an aluminium coat and lie on a silicon grid. */
  readonly window: 'polymer' | 'silicon-nitride' | 'beryllium' | 'none';
  /** Thickness of the window, um. */
  readonly windowUm: number;
  /** Light-tight aluminium on a film window, nm. */
  readonly aluminiumNm: number;
  /** Open part of the support grid of a film window, 0..1. */
  readonly openFraction: number;
  /** Height of the silicon grid bars, um. */
  readonly gridUm: number;
  /** Ice on the window or crystal, um. */
  readonly iceUm: number;
  /** Carbon deposited on the window by the beam's residual gas, nm. */
  readonly carbonNm: number;
  /** Metal of the contact on the entrance of the crystal, and its thickness, nm. */
  readonly contact: 'aluminium' | 'gold';
  readonly contactNm: number;
  /** Silicon in front of the active volume, um. */
  readonly deadLayerUm: number;
  /** Active silicon, mm. */
  readonly thicknessMm: number;
  /** Electronic noise as FWHM, eV. */
  readonly noiseEv: number;
  /** Fano factor. */
  readonly fano: number;
  /** Mean energy per electron-hole pair, eV. */
  readonly pairEv: number;
  /** Part of the charge that is lost of photons absorbed right under the entrance, 0..1. */
  readonly surfaceLoss: number;
  /** Depth over which that loss falls by e, um. */
  readonly lossDepthUm: number;
  /** Part of every peak in a tail, whatever its depth. */
  readonly deepTail: number;
  /** Decay length of that tail in units of the peak's FWHM. */
  readonly tailDecay: number;
  /** Part of all counts left flat between 0 and their energy. */
  readonly shelf: number;
}

/**
 * A present-day silicon drift detector with a polymer window. Sources per field; 'typical' is common practice, no source.
 * The response fields (loss of charge, tails, shelf) were set
 * so that peaks behave as seen in measured spectra: B, C, N and O 3 to 7 eV low and up to 3 % wider, shelf 0.9 to 1.8 %.
 */
export const DEFAULT_DETECTOR: Detector = {
  window: 'polymer',
  windowUm: 0.3, // typical
  aluminiumNm: 40, // typical 30 to 40
  openFraction: 0.77, // typical 0.76 to 0.80
  gridUm: 380, // typical
  iceUm: 0,
  carbonNm: 0,
  contact: 'aluminium',
  contactNm: 0, // behind an aluminised film the entrance of a drift detector needs no metal
  deadLayerUm: 0.05, // typical 0.02 to 0.1
  thicknessMm: 0.45, // typical 0.45 to 0.5
  noiseEv: 50.2, // with the next two: FWHM 129 eV at Mn Ka
  fano: 0.118, // 0.119 +- 0.002, Rodrigues et al., arXiv:2004.11499; reviews give 0.114 to 0.118
  pairEv: 3.66, // -30 C; Canali et al., IEEE Trans. Nucl. Sci. 19 (1972), 3.62 eV at 300 K
  // F. Scholze, M. Procop, X-Ray Spectrom. 38 (2009) 312, from memory: some 0.1 um. The loss: peaks of B, C, N and O in measured spectra
  // of three instruments (1, 2, 1 and 8 spectra) lie 6.4, 6.2, 5.7, 4.8 eV low, against 5.7, 5.7, 4.6, 3.5 of these two values. In
  // part circular: the axes they were read on are our own fit's.
  surfaceLoss: 0.05,
  lossDepthUm: 0.1,
  deepTail: 0.003,
  tailDecay: 1.5,
  shelf: 0.013,
};

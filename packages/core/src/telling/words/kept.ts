/** In place of the figure where a record is on show and its spectrum is not at hand. */
export const NO_SPECTRUM =
  'This reading comes from saved results, which do not include the spectrum itself. To see the spectrum and to question the reading, show the folder ' +
  'of spectra with these results: limner show FOLDER --out RESULTS.';

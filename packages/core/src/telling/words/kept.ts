/** In place of the figure where a record is on show and its spectrum is not at hand. */
export const NO_SPECTRUM =
  'This reading comes from kept results; the spectrum itself is not beside them. To see it and to argue with the reading, show the folder of ' +
  'the spectra, with these results: limner show FOLDER --out RESULTS.';

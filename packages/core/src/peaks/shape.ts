import { Gaussian } from 'ml-peak-shape-generator';

/**
 * Area of a Gaussian over what a top-hat of one FWHM with wings of half a FWHM sees of it: the filter takes in the
 * core and, by its wings, subtracts the peak's own flanks.
 */
export const GAUSSIAN_FWHM_TO_AREA = fwhmToArea(new Gaussian({ fwhm: 1 }));

/** Rid of the last digits, in which engines differ. */
function fwhmToArea(unit: Gaussian): number {
  const steps = 400;
  let core = 0;
  let wings = 0;
  for (let i = 0; i < steps; i++) {
    const t = (i + 0.5) / steps;
    core += unit.fct(t / 2) / steps;
    wings += unit.fct(0.5 + t / 2) / steps;
  }
  return Number((unit.getArea() / (core - wings)).toPrecision(12));
}

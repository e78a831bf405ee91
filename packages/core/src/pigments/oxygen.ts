import { zOf } from '../atomic/elements.ts';
import type { Evidence } from './evidence.ts';
import { PRIORS } from './priors.ts';

const [CARBON, NITROGEN, OXYGEN] = [zOf('C')!, zOf('N')!, zOf('O')!];

/**
 * Oxygen that is visible asks for something that holds it: what neither the parts nor the carbon's medium can bring weighs against
 * metals, elements and wafers. (Oxygen that is proved absent weighs against compounds in the fit itself.)
 * @param held mass fractions that the parts hold, aligned with the evidence
 */
export function lnOxygenOf({ amounts, place }: Evidence, held: Float64Array): number {
  const at = place[OXYGEN];
  if (at < 0) return 0;
  const { value, counting } = amounts[at];
  if (value < SEEN * counting) return 0;
  const carbon = place[CARBON] < 0 ? 0 : amounts[place[CARBON]].value;
  const lack = value - held[at] - PRIORS.oxygenPerCarbon.value * carbon;
  if (lack <= 0) return 0;
  const sigma = Math.hypot(counting, PRIORS.oxygenDoubt.value * value);
  return Math.max(PRIORS.mostOxygen.value, -((lack / sigma) ** 2) / 2);
}

/**
 * Nitrogen that is visible asks for something that holds it: a medium or mounting with nitrogen is one of several, and protein holds no
 * more of it than so much per carbon. Cyanides, azo and phthalocyanine pigments hold their own.
 */
export function lnNitrogenOf({ amounts, place }: Evidence, held: Float64Array): number {
  const at = place[NITROGEN];
  if (at < 0 || !amounts[at].seen || amounts[at].value < SEEN * amounts[at].counting) return 0;
  const { value, counting } = amounts[at];
  if (held[at] > HOLDS * value) return 0;
  const carbon = place[CARBON] < 0 ? 0 : amounts[place[CARBON]].value;
  const lack = Math.max(0, value - held[at] - PRIORS.nitrogenPerCarbon.value * carbon);
  const sigma = Math.hypot(counting, PRIORS.oxygenDoubt.value * value);
  return PRIORS.nitrogenBrought.value + Math.max(PRIORS.mostOxygen.value, -((lack / sigma) ** 2) / 2);
}

/** Standard deviations of counting from which an element is taken as seen. */
const SEEN = 4;
/** Part of it that materials hold which explain it. Chosen. */
const HOLDS = 0.3;

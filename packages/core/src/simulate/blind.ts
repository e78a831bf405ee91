import { SOFTWARE_VERSION } from '../atomic/version.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { ORIGIN_KEY } from './origin.ts';

/** What a blind file says instead of what it was made of. */
export interface Blind {
  /** Names the exercise; part of the title. */
  readonly exercise: string;
  /** SHA-256 of the key's text, hex: whoever holds the key can show later that it was fixed beforehand. */
  readonly commitment: string;
}

/** A simulated spectrum without its recipe: it still says that it is simulated, and nothing of what, with which seed or physics. */
export function withoutRecipe(spectrum: Spectrum, { exercise, commitment }: Blind): Spectrum {
  const entry = (key: string, value: string) => ({ key, unit: '', value });
  return {
    ...spectrum,
    title: `SIMULATED exercise ${exercise}`,
    header: [
      entry('COMMENT', 'Simulated, not measured: an exercise, no evidence about any object'),
      entry(ORIGIN_KEY, 'simulated'),
      entry('##LIMNER-MADE-BY', `@limner/core ${SOFTWARE_VERSION}`),
      entry('##LIMNER-EXERCISE', exercise),
      entry('##LIMNER-COMMITMENT', `sha256 ${commitment}`),
    ],
  };
}

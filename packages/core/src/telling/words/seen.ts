import type { SeenContradiction } from '../../evidence/contradiction.ts';
import type { ObservationName } from '../../evidence/observations.ts';
import { within } from '../terms/names.ts';
import { capital, listed, listedUpTo } from '../terms/numerals.ts';

/** What is named before a value, and behind it. */
const PHRASES: Readonly<Record<ObservationName, readonly [before: string, behind: string]>> = {
  colour: ['colour', ''],
  opacity: ['', ''],
  size_um: ['size', 'um'],
  shape: ['shape', ''],
  refraction: ['refraction', 'against the mountant'],
  mountant: ['index of the mountant', ''],
  isotropy: ['', ''],
  birefringence: ['birefringence', ''],
  pleochroism: ['pleochroism', ''],
  uv: ['', 'in ultraviolet'],
  microchemistry: ['microchemical', ''],
  raman_cm1: ['Raman', 'cm-1'],
  infrared_cm1: ['infrared', 'cm-1'],
  diffraction: ['diffraction', ''],
};

/** 'colour blue', 'Raman 403 and 1098 cm-1' */
export function observationPhrase(property: string, value: string): string {
  return phraseOf(property, listed(value.split('+')));
}

function phraseOf(property: string, values: string): string {
  const [before, behind] = PHRASES[property as ObservationName];
  const unit = behind === 'um' || behind === 'cm-1' ? `\u00a0${behind}` : behind && ` ${behind}`;
  return `${before && `${before} `}${values}${unit}`;
}

/** Where the contradiction may come from, besides a slip. */
const ASKS: Partial<Record<ObservationName, string>> = {
  colour: 'Was it the same grain, or is it coloured by a lake or dye, which X-rays hardly show?',
  microchemistry: 'Did the test reach only this grain?',
  raman_cm1: 'Does a band come from next to the grain?',
  infrared_cm1: 'Does a band come from next to the grain?',
  diffraction: 'Does a phase come from next to the grain?',
};
/** Values of one material that are named. */
const MOST_SHOWN = 3;

/** A contradiction as a question. */
export function seenQuestion({ property, value, expected }: SeenContradiction): string {
  const shown = expected.map(
    ({ name, shows }) => `${within(name)}: ${phraseOf(property, listedUpTo(MOST_SHOWN, shows))}`,
  );
  return `${capital(observationPhrase(property, value))} was seen; expected for ${shown.join('; ')}. ${ASKS[property] ?? 'Was it the same grain?'}`;
}

import type { Brightness, BrightnessRange, ImageAnswer } from '../pigments/brightness.ts';
import type { Warning } from '../spectrum/spectrum.ts';
import { printable, wrap } from './layout.ts';
import { capital, fixed, listed, significant } from './numerals.ts';
import type { LimnerRecord } from '../record/record.ts';

const MOST_CANDIDATES = 3;
const MOST_CONTRADICTED = 4;

const ANSWERS: Readonly<Record<ImageAnswer, string>> = {
  agrees: 'agrees with it',
  contradicts: 'contradicts it',
  'cannot tell': 'is too near to say',
};

/** How bright the grain should look, as lines of a reading. */
export function brightnessLines(record: LimnerRecord): string[] {
  return brightnessSentences(record).flatMap((sentence) => wrap(sentence, 2, 2));
}

/** What was identified beside the usual neighbours, what the first materials would give, and what was said of the image. */
export function brightnessSentences({ brightness, pigments }: LimnerRecord): string[] {
  const names = new Map(pigments.map(({ id, name }) => [id, name]));
  return [
    ...identifiedSentence(brightness),
    ...candidatesSentence(brightness, names),
    ...brightness.said.map(({ order, name, backscatter }) => {
      const than = `${order.replace('-', ' ')} ${printable(name)} (${rangeText(backscatter)})`;
      return `Said to look ${than}.`;
    }),
    ...imageSentences(brightness, names),
  ];
}

/** A warning where the identified composition itself contradicts the image. */
export function imageWarnings({ image, said }: Brightness): Warning[] {
  if (image !== 'contradicts') return [];
  const orders = said.map(({ order, name }) => `${order.replace('-', ' ')} ${printable(name)}`);
  return [
    {
      code: 'image-contradicts',
      text: `The grain was said to look ${listed(orders)} in the backscatter image; the identified composition would not. Was it the same grain, and was it flat, thick and bare there?`,
    },
  ];
}

function identifiedSentence({ identified, beside, beamKev }: Brightness): string[] {
  if (identified === null) return [];
  const by = (looks: Brightness['beside'][number]['looks']): string[] =>
    beside.filter((neighbour) => neighbour.looks === looks).map(({ name }) => name);
  const orders = [
    ['brighter than ', by('brighter')],
    ['much like ', by('alike')],
    ['darker than ', by('darker')],
  ] as const;
  const told = orders.flatMap(([words, others]) => (others.length > 0 ? [words + listed(others)] : []));
  return [
    `As identified: backscatter coefficient ${rangeText(identified)} at ${Number(beamKev.toPrecision(3))}\u00a0keV, the lower end with all the carbon found, the upper (mean atomic number ${significant(identified.meanZ, 2)}) without. So it should look ${told.join(', ')}. This holds for a polished, flat, thick grain; tilt, edges and coatings change it.`,
  ];
}

function candidatesSentence({ candidates }: Brightness, names: ReadonlyMap<string, string>): string[] {
  if (candidates.length === 0) return [];
  const told = candidates
    .slice(0, MOST_CANDIDATES)
    .map(({ id, backscatter }) => `${names.get(id) ?? id} ${rangeText(backscatter)}`);
  return [`By the materials, from paint with medium to a pure grain: ${told.join('; ')}.`];
}

function imageSentences({ candidates, image }: Brightness, names: ReadonlyMap<string, string>): string[] {
  if (image === null) return [];
  const against = candidates.filter((candidate) => candidate.image === 'contradicts');
  const shown = against.slice(0, MOST_CONTRADICTED).map(({ id }) => names.get(id) ?? id);
  const more = against.length - shown.length;
  const contradicted = listed(more > 0 ? [...shown, `${more} more`] : shown);
  return [
    `The composition as identified ${ANSWERS[image]}.`,
    ...(against.length > 0
      ? [
          `${capital(contradicted)} would not look so: the image speaks against ${against.length > 1 ? 'them' : 'it'}, but is no proof.`,
        ]
      : []),
  ];
}

/** '0.39 to 0.48 ± 0.03' */
function rangeText({ low, high, sigma }: BrightnessRange): string {
  const ends = [...new Set([fixed(low, 2), fixed(high, 2)])];
  return `${ends.join(' to ')}\u00a0±\u00a0${fixed(sigma, 2)}`;
}

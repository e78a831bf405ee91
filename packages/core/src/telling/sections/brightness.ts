import type { Brightness, BrightnessRange, ImageAnswer } from '../../pigments/brightness.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { MOST_BRIGHTNESS } from '../terms/cutoffs.ts';
import { within } from '../terms/names.ts';
import { capital, fixed, listed, listedUpTo, significant, trimmed } from '../terms/numerals.ts';
import { type Node, paragraph, section } from './tree.ts';

const ANSWERS: Readonly<Record<ImageAnswer, string>> = {
  agrees: 'agrees with it',
  contradicts: 'contradicts it',
  'cannot tell': 'is too close to call',
};

type Names = ReadonlyMap<string, string>;

/** How bright the grain should look in the backscatter image; brief only where something was said of the image. */
export function brightness(record: LimnerRecord): Node | null {
  const names = new Map(record.pigments.map(({ id, name }) => [id, name]));
  const { brightness: found } = record;
  return section('brightness', 'Brightness in the backscatter image', [
    paragraph('brightness-image', imageText(found, names)),
    paragraph('brightness-identified', identifiedText(found), 'full'),
    paragraph('brightness-materials', candidatesText(found, names), 'full'),
  ]);
}

function identifiedText({ identified, beside, beamKev }: Brightness): string {
  if (identified === null) return '';
  const by = (looks: Brightness['beside'][number]['looks']): string[] =>
    beside.filter((neighbour) => neighbour.looks === looks).map(({ name }) => name);
  const orders = [
    ['brighter than ', by('brighter')],
    ['much like ', by('alike')],
    ['darker than ', by('darker')],
  ] as const;
  const told = orders.flatMap(([words, others]) => (others.length > 0 ? [words + listed(others)] : []));
  const looks = told.length > 0 ? ` It should therefore look ${told.join(', ')}.` : '';
  return (
    `From the composition found, the backscatter coefficient is ${rangeText(identified)} at ${trimmed(beamKev, 3)}\u00a0keV: the lower end includes all the ` +
    `carbon found, the upper end (mean atomic number ${significant(identified.meanZ, 2)}) none.${looks} ` +
    'This holds for a polished, flat, thick grain; tilt, edges and coatings change it.'
  );
}

function candidatesText({ candidates }: Brightness, names: Names): string {
  if (candidates.length === 0) return '';
  const told = candidates
    .slice(0, MOST_BRIGHTNESS.candidates)
    .map(({ id, backscatter }) => `${within(names.get(id) ?? id)} ${rangeText(backscatter)}`);
  return `By material, from paint with medium to a pure grain: ${told.join('; ')}.`;
}

function imageText({ candidates, image, said }: Brightness, names: Names): string {
  if (image === null) return '';
  const told = said.map(
    ({ order, name, backscatter }) => `Said to look ${order.replace('-', ' ')} ${name} (${rangeText(backscatter)}).`,
  );
  const against = candidates.filter((candidate) => candidate.image === 'contradicts');
  const speaks =
    against.length === 0
      ? ''
      : `${capital(
          listedUpTo(
            MOST_BRIGHTNESS.contradicted,
            against.map(({ id }) => within(names.get(id) ?? id)),
          ),
        )} would not look like that: the image is evidence against ${against.length > 1 ? 'them' : 'it'}, not proof.`;
  return [...told, `The composition found ${ANSWERS[image]}.`, speaks].filter(Boolean).join(' ');
}

/** '0.39 to 0.48 ± 0.03' */
function rangeText({ low, high, sigma }: BrightnessRange): string {
  const ends = [...new Set([fixed(low, 2), fixed(high, 2)])];
  return `${ends.join(' to ')}\u00a0±\u00a0${fixed(sigma, 2)}`;
}

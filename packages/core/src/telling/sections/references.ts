import type { ReferenceComparison } from '../../evidence/reference-peaks.ts';
import type { ReferenceRatio } from '../../evidence/reference-ratios.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { lineOf } from '../terms/names.ts';
import { fixed, listed, listedUpTo, measured, significant } from '../terms/numerals.ts';
import { item, list, type Node, paragraph, section } from './tree.ts';

/** Peaks that are named where a grain differs from a reference, and references of a ratio. */
const MOST_PEAKS = 4;
const MOST_NAMED = 3;

const NOTE =
  'Ratios are by atoms: count ratios relative to those of the reference, with a matrix correction from the model. The uncertainty includes counting ' +
  'in both spectra, the scatter between spectra and a part of the correction. These amounts replace the standardless ones when materials are weighed.';

/** The grain against the user's own reference grains. */
export function references({ references: held }: LimnerRecord): Node | null {
  if (held === undefined) return null;
  return section('references', 'Compared with your reference grains', [
    list(
      'reference-ratios',
      held.ratios.map((ratio) =>
        item(`reference-${ratio.numerator}-${ratio.denominator}`, ratioText(ratio), 'brief', pairOf(ratio)),
      ),
    ),
    list(
      'reference-peaks',
      held.compared.map((one) =>
        item(`reference-${one.name}`, comparedText(one), 'brief', `${one.name} (${one.label}):`),
      ),
    ),
    list(
      'references-aside',
      held.setAside.map(({ name, label, reason }) => item(`aside-${name}`, reason, 'brief', `${name} (${label}):`)),
    ),
    paragraph('reference-note', held.ratios.length === 0 ? '' : NOTE, 'full', 'note'),
  ]);
}

const pairOf = ({ numerator, denominator }: ReferenceRatio): string => `${numerator}:${denominator}`;

function ratioText({ value, standardless, correction, by }: ReferenceRatio): string {
  return (
    `${measured(value)} from ${listedUpTo(MOST_NAMED, by)} (${significant(standardless, 2)} without references); ` +
    `the matrix correction is a factor of up to ${fixed(correction, 2)}.`
  );
}

function comparedText({ differing }: ReferenceComparison): string {
  if (differing.length === 0) return 'indistinguishable at these counts.';
  const told = differing.slice(0, MOST_PEAKS).map(({ symbol, line, times }) => {
    const peak = line === null ? symbol : lineOf(symbol, line);
    return times === null
      ? `${peak} (the reference has none)`
      : `${peak} (${significant(times, 2)} times as many counts)`;
  });
  const more = differing.length > MOST_PEAKS ? `, and ${differing.length - MOST_PEAKS} more` : '';
  return `differs in ${listed(told)}${more}.`;
}

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
  'Ratios are by atoms: those of the counts against those of the reference, corrected for the matrix by the model. The uncertainty includes the ' +
  'counting of both, the scatter between spectra, and a part of the correction. Such amounts take the place of standardless ones where materials are weighed.';

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
    `${measured(value)} by ${listedUpTo(MOST_NAMED, by)}, where it was ${significant(standardless, 2)} without; ` +
    `the matrix changes it by a factor of up to ${fixed(correction, 2)}.`
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

import type { ElementRatio } from '../pigments/ratios.ts';
import { wrap } from './layout.ts';
import { listed, measured, significant } from './numerals.ts';
import type { LimnerRecord } from '../record/record.ts';

const MOST_RATIOS = 5;
const MOST_MATERIALS = 2;
/** Ratios of materials below this part of the best score are left to the record. */
const LEAST_OF_BEST = 0.35;

/** The ratios of the materials that fit best: measured, expected, and what it means where they disagree. */
export function ratioLines(record: LimnerRecord): string[] {
  const ratios = ratiosWorthTelling(record).slice(0, MOST_RATIOS);
  if (ratios.length === 0) return [];
  const names = new Map(record.pigments.map(({ id, name }) => [id, name]));
  const sources = [...new Set(ratios.flatMap(({ source }) => source))];
  return [
    ...ratios.flatMap((ratio) => wrap(ratioSentence(ratio, names), 2, 4)),
    ...wrap(`Expected values from: ${sources.join('. ')}.`, 2, 4),
  ];
}

/** Ratios of the materials that fit best, measured ones before mere limits. */
export function ratiosWorthTelling({ ratios, pigments }: LimnerRecord): ElementRatio[] {
  const best = pigments[0]?.score ?? 0;
  const worthy = new Set(
    pigments
      .filter(({ standing, score }) => standing === 'allowed' && score >= LEAST_OF_BEST * best)
      .map(({ id }) => id),
  );
  const told = ratios.filter(({ materials }) => materials.some((id) => worthy.has(id)));
  return [...told.filter(({ value }) => value !== null), ...told.filter(({ value }) => value === null)];
}

function ratioSentence(ratio: ElementRatio, names: ReadonlyMap<string, string>): string {
  const name = (id: string): string => names.get(id) ?? id;
  const more = ratio.materials.length - MOST_MATERIALS;
  const first = ratio.materials.slice(0, MOST_MATERIALS).map(name);
  const materials = listed(more > 0 ? [...first, `${more} more`] : first);
  const also = ratio.alsoIn.length > 0 ? ` (some of it may be ${listed(ratio.alsoIn.map(name))})` : '';
  const off = ratio.agrees === 'above' || ratio.agrees === 'below';
  const says = SAYS[ratio.agrees] + (off ? `: ${ratio.tells}` : '');
  return `${ratioName(ratio)} ${ratioValue(ratio)}, expected ${expectedText(ratio)} in ${materials}${also}${says}.`;
}

const SAYS: Readonly<Record<ElementRatio['agrees'], string>> = {
  within: ': agrees',
  above: ', so it is above',
  below: ', so it is below',
  'limit only': ': nothing against it',
};

/** 'Sn/Pb', '(Cd + Zn)/S' */
export function ratioName({ numerator, denominator }: ElementRatio): string {
  const side = (symbols: readonly string[]): string => (symbols.length > 1 ? `(${symbols.join('+')})` : symbols.join());
  return `${side(numerator)}/${side(denominator)}`;
}

/** '0.52 ± 0.21', 'at most 0.03' */
export function ratioValue({ value, limit }: ElementRatio): string {
  if (value !== null) return measured(value);
  return limit === null ? '' : `${limit.side.replace('-', ' ')} ${significant(limit.ratio, 2)}`;
}

/** '0.5', '1.67 to 1.8' */
export function expectedText({ expected: { low, high } }: ElementRatio): string {
  const text = (value: number): string => String(Number(value.toPrecision(3)));
  return text(low) === text(high) ? text(low) : `${text(low)} to ${text(high)}`;
}

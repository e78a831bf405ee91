import type { OverviewSpectrum } from '@limner/session';
import type { Choice, Sort } from './choice.ts';

/** A spectrum with what it is found and ordered by: places among the others, counted from 0. */
interface Placed {
  readonly spectrum: OverviewSpectrum;
  /** All that a text is looked for in. */
  readonly text: string;
  readonly best: number;
  readonly file: number;
}

/** Behind every name. */
const LAST = '\uffff';

const byText = new Intl.Collator('en', { numeric: true }).compare;

/** The spectra of a session, in any order. Names are compared once, at the start: in a session of thousands that is slow. */
export class OrderedSpectra {
  /** Elements required or open anywhere, those of most spectra first. */
  readonly symbols: readonly string[];
  readonly size: number;
  /** By sample, then from the ground up, beside the layers last, then by particle and file. */
  readonly #placed: readonly Placed[];

  constructor(spectra: readonly OverviewSpectrum[]) {
    const sampleOf = ({ place }: OverviewSpectrum): string => place?.sample ?? LAST;
    const layerOf = ({ place }: OverviewSpectrum): number => place?.layer ?? Infinity;
    const particleOf = ({ place }: OverviewSpectrum): string => place?.particle ?? '';
    const bestOf = ({ best }: OverviewSpectrum): string => best?.name ?? LAST;
    const file = ranksOf(spectra.map((one) => one.file));
    const sample = ranksOf(spectra.map(sampleOf));
    const particle = ranksOf(spectra.map(particleOf));
    const best = ranksOf(spectra.map(bestOf));
    this.symbols = symbolsOf(spectra);
    this.size = spectra.length;
    this.#placed = spectra
      .map((spectrum) => ({
        spectrum,
        text: textOf(spectrum),
        best: best.get(bestOf(spectrum))!,
        file: file.get(spectrum.file)!,
        sample: sample.get(sampleOf(spectrum))!,
        layer: layerOf(spectrum),
        particle: particle.get(particleOf(spectrum))!,
      }))
      .sort(
        (a, b) =>
          a.sample - b.sample ||
          (a.layer === b.layer ? 0 : a.layer - b.layer) ||
          a.particle - b.particle ||
          a.file - b.file,
      );
  }

  /** The spectra that a choice lets through, in its order. */
  chosen(choice: Choice): OverviewSpectrum[] {
    const text = choice.text.trim().toLowerCase();
    const found = this.#placed.filter((one) => one.text.includes(text) && isChosen(one.spectrum, choice));
    return sorted(found, choice.sort).map(({ spectrum }) => spectrum);
  }
}

/** What is alike stays in order of place. */
function sorted(found: readonly Placed[], { by, descending }: Sort): readonly Placed[] {
  if (by === 'place') return descending ? found.toReversed() : found;
  const sign = descending ? -1 : 1;
  return found
    .map((one) => ({ one, at: keyOf(one, by) }))
    .sort((a, b) => sign * (a.at - b.at))
    .map(({ one }) => one);
}

function keyOf({ spectrum, best, file }: Placed, by: string): number {
  if (by === 'file') return file;
  return by === 'best' ? best : amountOf(spectrum, by);
}

/** Required by the counts over open over nothing; more of it over less. */
function amountOf({ elements }: OverviewSpectrum, symbol: string): number {
  const element = elements.find((one) => one.symbol === symbol);
  if (!element) return 0;
  return (element.verdict === 'present' ? 2 : 1) + Math.min(0.999, element.massFraction?.value ?? 0);
}

const textOf = ({ file, title, place, best }: OverviewSpectrum): string =>
  `${file}\n${title}\n${place?.particle ?? ''}\n${best?.name ?? ''}`.toLowerCase();

const isChosen = ({ place, elements, kind }: OverviewSpectrum, choice: Choice): boolean =>
  (choice.sample === '' || place?.sample === choice.sample) &&
  (choice.layer === '' || String(place?.layer ?? 'beside') === choice.layer) &&
  (choice.element === '' || elements.some(({ symbol }) => symbol === choice.element)) &&
  (choice.kind === '' || String(kind ?? 'none') === choice.kind);

/** The place of each name among all. */
const ranksOf = (names: readonly string[]): ReadonlyMap<string, number> =>
  new Map([...new Set(names)].sort(byText).map((name, rank) => [name, rank]));

function symbolsOf(spectra: readonly OverviewSpectrum[]): string[] {
  const counts = new Map<string, number>();
  for (const { elements } of spectra)
    for (const { symbol } of elements) counts.set(symbol, (counts.get(symbol) ?? 0) + 1);
  return [...counts].sort(([a, m], [b, n]) => n - m || byText(a, b)).map(([symbol]) => symbol);
}

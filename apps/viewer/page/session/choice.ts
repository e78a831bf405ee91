import type { OverviewSpectrum } from '@limner/session';

/** What of a session is shown, and in which order. */
export interface Choice {
  /** Part of a file name, a title, a particle or a material. */
  readonly text: string;
  /** '' for all. */
  readonly sample: string;
  /** '' for all, 'beside' beside the layers. */
  readonly layer: string;
  /** Symbol; '' for all. */
  readonly element: string;
  /** Number of a kind; '' for all, 'none' for spectra like no other. */
  readonly kind: string;
  readonly sort: Sort;
}

/** Column by which the spectra are ordered: 'place' (sample, layer, particle), 'file', 'best', or an element's symbol. */
export interface Sort {
  readonly by: string;
  readonly descending: boolean;
}

export const ALL: Choice = {
  text: '',
  sample: '',
  layer: '',
  element: '',
  kind: '',
  sort: { by: 'place', descending: false },
};

/** What of a session was shown last in this tab, as it was kept; all of it where nothing was. */
export function choiceIn(text: string): Choice {
  const kept = parsed(text);
  const { by, descending } = parsed(kept['sort']);
  const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');
  return {
    text: textOf(kept['text']),
    sample: textOf(kept['sample']),
    layer: textOf(kept['layer']),
    element: textOf(kept['element']),
    kind: textOf(kept['kind']),
    sort: { by: textOf(by) || ALL.sort.by, descending: descending === true },
  };
}

/** A text as JSON, or what that held; empty where it is no object. */
function parsed(value: unknown): Readonly<Record<string, unknown>> {
  if (typeof value !== 'string') return typeof value === 'object' && value !== null ? { ...value } : {};
  try {
    return parsed(JSON.parse(value) as object);
  } catch {
    return {};
  }
}

const byText = new Intl.Collator('en', { numeric: true }).compare;

/** The spectra that a choice lets through, in its order. */
export function chosen(spectra: readonly OverviewSpectrum[], choice: Choice): OverviewSpectrum[] {
  const sign = choice.sort.descending ? -1 : 1;
  const compare = comparison(choice.sort.by);
  return spectra.filter((spectrum) => isChosen(spectrum, choice)).sort((a, b) => sign * compare(a, b) || byPlace(a, b));
}

function isChosen({ file, title, place, elements, best, kind }: OverviewSpectrum, choice: Choice): boolean {
  const text = choice.text.trim().toLowerCase();
  const all = `${file}\n${title}\n${place?.particle ?? ''}\n${best?.name ?? ''}`.toLowerCase();
  return (
    all.includes(text) &&
    (choice.sample === '' || place?.sample === choice.sample) &&
    (choice.layer === '' || String(place?.layer ?? 'beside') === choice.layer) &&
    (choice.element === '' || elements.some(({ symbol }) => symbol === choice.element)) &&
    (choice.kind === '' || String(kind ?? 'none') === choice.kind)
  );
}

function comparison(by: string): (a: OverviewSpectrum, b: OverviewSpectrum) => number {
  switch (by) {
    case 'place':
      return byPlace;
    case 'file':
      return (a, b) => byText(a.file, b.file);
    case 'best':
      return (a, b) => byText(a.best?.name ?? '\uffff', b.best?.name ?? '\uffff');
    default:
      return (a, b) => rank(a, by) - rank(b, by);
  }
}

/** Required by the counts over open over nothing; more of it over less. */
function rank({ elements }: OverviewSpectrum, symbol: string): number {
  const element = elements.find((one) => one.symbol === symbol);
  if (!element) return 0;
  return (element.verdict === 'present' ? 2 : 1) + Math.min(0.999, element.massFraction?.value ?? 0);
}

/** By sample, then from the ground up, beside the layers last, then by particle and file. */
function byPlace(a: OverviewSpectrum, b: OverviewSpectrum): number {
  const layer = ({ place }: OverviewSpectrum): number => place?.layer ?? Infinity;
  return (
    byText(a.place?.sample ?? '\uffff', b.place?.sample ?? '\uffff') ||
    (layer(a) === layer(b) ? 0 : layer(a) - layer(b)) ||
    byText(a.place?.particle ?? '', b.place?.particle ?? '') ||
    byText(a.file, b.file)
  );
}

/** Elements required or open anywhere, those of most spectra first. */
export function symbolsOf(spectra: readonly OverviewSpectrum[]): string[] {
  const counts = new Map<string, number>();
  for (const { elements } of spectra)
    for (const { symbol } of elements) counts.set(symbol, (counts.get(symbol) ?? 0) + 1);
  return [...counts].sort(([a, m], [b, n]) => n - m || byText(a, b)).map(([symbol]) => symbol);
}

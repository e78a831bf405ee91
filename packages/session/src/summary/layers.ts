import { byCodeUnits } from '../input/code-units.ts';
import type { Place } from '../input/sheet.ts';
import type { GrainDating, GrainFindings, Material } from './findings.ts';

/** Binding media and resin bring these to every grain, so they tie none to its layer. */
const EVERYWHERE: ReadonlySet<string> = new Set(['C', 'O']);
/** In a layer with fewer grains than this, none can be said to differ. */
const FEWEST_TO_DIFFER = 3;

export interface Grain {
  readonly file: string;
  readonly place: Place;
  readonly found: GrainFindings;
}

/** What was found in one layer of one sample. */
export interface LayerSummary {
  readonly layer: number | null;
  readonly grains: readonly Grain[];
  /** In how many grains each element is required by the counts; most first. */
  readonly elements: readonly { readonly symbol: string; readonly grains: number }[];
  /** In how many grains each material fits best; most first. */
  readonly materials: readonly { readonly material: Material; readonly grains: number }[];
  /** Grains that hold none of the elements that most grains of the layer hold (C and O apart). */
  readonly odd: readonly Grain[];
  /** The grain of this layer that argues for the latest date. */
  readonly dated: DatedGrain | null;
  /** The latest date of this layer and all below it: a layer is no older than what it lies on. Null outside the layers. */
  readonly notBefore: DatedGrain | null;
}

/** A grain with its dating argument. */
export interface DatedGrain {
  readonly grain: Grain;
  readonly dating: GrainDating;
}

export interface SampleSummary {
  readonly sample: string;
  /** From the ground up; grains outside the layers come last. */
  readonly layers: readonly LayerSummary[];
}

/** Groups grains by sample and layer; their order does not matter. */
export function bySample(grains: readonly Grain[]): SampleSummary[] {
  const samples = groupBy(grains, ({ place }) => place.sample);
  return [...samples].sort(([a], [b]) => byCodeUnits(a, b)).map(([sample, its]) => ({ sample, layers: layersOf(its) }));
}

function layersOf(grains: readonly Grain[]): LayerSummary[] {
  let below: DatedGrain | null = null;
  return [...groupBy(grains, ({ place }) => place.layer ?? Infinity)]
    .sort(([a], [b]) => a - b)
    .map(([number, members]) => {
      const layer = layerOf(Number.isFinite(number) ? number : null, members);
      if (layer.layer === null) return layer;
      below = later(below, layer.dated);
      return { ...layer, notBefore: below };
    });
}

const later = (a: DatedGrain | null, b: DatedGrain | null): DatedGrain | null =>
  a === null || (b !== null && b.dating.year > a.dating.year) ? b : a;

function layerOf(layer: number | null, members: readonly Grain[]): LayerSummary {
  const grains = [...members].sort((a, b) => byCodeUnits(a.file, b.file));
  const elements = counted(grains.flatMap(({ found }) => found.present));
  const materials = counted(grains.flatMap(({ found }) => found.best?.id ?? []));
  const byId = new Map(grains.flatMap(({ found }) => (found.best ? [[found.best.id, found.best] as const] : [])));
  const dated = grains
    .flatMap((grain) => (grain.found.dating ? [{ grain, dating: grain.found.dating }] : []))
    .reduce(later, null);
  return {
    layer,
    grains,
    elements: elements.map(([symbol, count]) => ({ symbol, grains: count })),
    materials: materials.map(([id, count]) => ({ material: byId.get(id)!, grains: count })),
    odd: layer === null ? [] : oddOnes(grains, elements),
    dated,
    notBefore: null,
  };
}

function oddOnes(grains: readonly Grain[], elements: readonly (readonly [string, number])[]): Grain[] {
  if (grains.length < FEWEST_TO_DIFFER) return [];
  const most = elements.filter(([symbol, count]) => !EVERYWHERE.has(symbol) && 2 * count > grains.length);
  if (most.length === 0) return [];
  return grains.filter(({ found }) => !most.some(([symbol]) => found.present.includes(symbol)));
}

function counted(items: readonly string[]): [string, number][] {
  const counts = new Map<string, number>();
  for (const item of items) counts.set(item, (counts.get(item) ?? 0) + 1);
  return [...counts].sort(([a, m], [b, n]) => n - m || byCodeUnits(a, b));
}

function groupBy<Item, Key>(items: readonly Item[], keyOf: (item: Item) => Key): Map<Key, Item[]> {
  const groups = new Map<Key, Item[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

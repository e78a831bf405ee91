import { type Cell, csv } from '../input/csv.ts';
import type { GrainDating } from '../summary/findings.ts';
import type { Grain, SampleSummary } from '../summary/layers.ts';

export const LAYER_HEADING = csv([['sample', 'layer', 'kind', 'id', 'name', 'grains_with', 'grains']]);

/**
 * The rows of layers.csv: in how many grains of a layer each element is present, and each material fits best; and the year before
 * which the layer cannot have been made, with the element that says so (an argument, not proof).
 */
export function layerRows(samples: readonly SampleSummary[]): string {
  return csv(
    samples.flatMap(({ sample, layers }) =>
      layers.flatMap(({ layer, grains, elements, materials, notBefore }) => [
        ...elements.map((e) => [sample, layer, 'element', e.symbol, e.symbol, e.grains, grains.length]),
        ...materials.map((m) => [sample, layer, 'material', m.material.id, m.material.name, m.grains, grains.length]),
        ...(notBefore ? [dateRow(sample, layer, grains, notBefore.dating)] : []),
      ]),
    ),
  );
}

function dateRow(
  sample: string,
  layer: number | null,
  grains: readonly Grain[],
  { year, symbol }: GrainDating,
): Cell[] {
  const arguing = grains.filter(({ found }) => found.dating && found.dating.year >= year).length;
  return [sample, layer, 'earliest-date', symbol, String(year), arguing, grains.length];
}

import packed from './knowledge.json' with { type: 'json' };
import type { Trust } from './knowledge.ts';
import { CellError, listIn, oneOf } from './material-cells.ts';
import type { TableFault, TableRow } from './material-table.ts';
import { OPTICS_READERS, type Range } from './optics-cells.ts';

/** A property of data/pigments/optics.csv; the unit of a number is part of its name. */
export type OpticsProperty = keyof typeof OPTICS_READERS;

export const OPTICS_PROPERTIES = Object.keys(OPTICS_READERS) as readonly OpticsProperty[];

/** What is known of one property of one material. */
export interface OpticsCell<Property extends OpticsProperty = OpticsProperty> {
  readonly value: ReturnType<(typeof OPTICS_READERS)[Property]>;
  /** Keys of sources.csv. */
  readonly source: readonly string[];
  readonly trust: Trust;
  readonly note: string;
}

/** What microscope, ultraviolet, microchemistry, spectra and diffraction show of a material; what is unknown is left out. */
export type MaterialOptics = { readonly [Property in OpticsProperty]?: OpticsCell<Property> };

export interface OpticsRules {
  /** Ids of the materials that there are; any id will do where left out. */
  readonly materials?: ReadonlySet<string>;
  /** Keys that sources may name; any text will do where left out. */
  readonly sources?: ReadonlySet<string>;
}

export const OPTICS_COLUMNS = ['material', 'property', 'value', 'source', 'trust', 'note'] as const;
type Column = (typeof OPTICS_COLUMNS)[number];
const TRUST = ['high', 'medium', 'low'] as const;

/** The table by material, or all that is wrong with it by row and column. Pure: the caller parses the CSV. */
export function opticsIn(
  heading: readonly string[],
  rows: readonly TableRow[],
  rules: OpticsRules = {},
): { readonly optics: ReadonlyMap<string, MaterialOptics>; readonly faults: TableFault[] } {
  const expected = OPTICS_COLUMNS.join(', ');
  if (heading.join(', ') !== expected)
    return { optics: new Map(), faults: [{ line: 1, id: '', column: null, text: `the columns must be ${expected}` }] };
  const faults: TableFault[] = [];
  const optics = new Map<string, Partial<Record<OpticsProperty, OpticsCell>>>();
  for (const { line, cells } of rows) {
    const [id, property] = cells;
    const fault = (column: Column | null, text: string): void => void faults.push({ line, id, column, text });
    const cell = cellIn(cells, rules, fault);
    if (cell === null) continue;
    const known = optics.get(id) ?? {};
    if (property in known) fault('property', `${property} of ${id} is there already; keep one of them`);
    optics.set(id, { ...known, [property]: cell });
  }
  return { optics: faults.length > 0 ? new Map() : optics, faults };
}

function cellIn(
  cells: readonly string[],
  { materials, sources }: OpticsRules,
  fault: (column: Column | null, text: string) => void,
): OpticsCell | null {
  if (cells.length !== OPTICS_COLUMNS.length) {
    fault(null, `${cells.length} cells under ${OPTICS_COLUMNS.length} columns; put text that holds a comma in quotes`);
    return null;
  }
  const [id, property, value, source, trust, note] = cells;
  let sound = true;
  const wrong = (column: Column, text: string): void => {
    sound = false;
    fault(column, text);
  };
  const read = <Value>(column: Column, reader: (cell: string) => Value, cell: string): Value | undefined => {
    try {
      return reader(cell);
    } catch (error) {
      if (!(error instanceof CellError)) throw error;
      wrong(column, error.message);
      return undefined;
    }
  };
  if (materials?.has(id) === false)
    wrong('material', `'${id}' is not an id in materials.csv; add it there or correct it`);
  const known = read('property', oneOf(OPTICS_PROPERTIES), property);
  const found = known === undefined ? undefined : read<OpticsCell['value']>('value', OPTICS_READERS[known], value);
  const keys = listIn(source);
  if (keys.length === 0) wrong('source', 'it is empty; name a key of sources.csv, or MEM for what is recalled');
  for (const key of keys)
    if (sources?.has(key) === false)
      wrong('source', `'${key}' is not a key in sources.csv; add it there or correct it`);
  const trusted = read('trust', oneOf(TRUST), trust);
  return sound ? { value: found!, source: keys, trust: trusted!, note } : null;
}

let known: ReadonlyMap<string, MaterialOptics> | undefined;

/** What is known of a material's optics; empty where nothing is. Read from the packed table when first asked for. */
export function opticsOf(id: string): MaterialOptics {
  known ??= opticsIn(
    OPTICS_COLUMNS,
    packed.optics.map((cells, at) => ({ line: at + 2, cells })),
  ).optics;
  return known.get(id) ?? {};
}

/** Refractive index of the usual mounting resin of pigment slides (common practice, no source). */
export const MOUNTANT_INDEX = 1.66;
/** A difference that the Becke line shows without doubt (common practice, no source). */
const BECKE_SEES = 0.01;

/**
 * What refraction against the mountant shows: `higher` or `lower` in every position of the grain, `both` where that depends on
 * the position, `same` where relief vanishes.
 */
export function againstMountant(
  { low, high }: Range,
  mountant: number = MOUNTANT_INDEX,
): 'higher' | 'lower' | 'both' | 'same' {
  if (low - mountant >= BECKE_SEES) return 'higher';
  if (mountant - high >= BECKE_SEES) return 'lower';
  return high - mountant < BECKE_SEES && mountant - low < BECKE_SEES ? 'same' : 'both';
}

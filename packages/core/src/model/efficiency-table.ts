import { log } from '../arithmetic/exponential.ts';
import { power } from '../arithmetic/power.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import type { Detector } from '../detector/detector.ts';
import { efficiency } from '../detector/efficiency.ts';
import { memoise } from './memoise.ts';

/** The efficiency of one set of detector layers, worked out once. */
export interface EfficiencyTable {
  /** At the energy of every line, LINE_TABLE order; exact. */
  readonly lines: Float64Array;
  /** At any energy, eV: linear in ln E between points 0.25 % apart, so that an edge is smeared over that much. */
  at(energyEv: number): number;
  /** The same at many energies, from where they lie between the points. @param out where it goes */
  atPlaces(places: Places, out: Float64Array): void;
}

/** Where energies lie between the points of every table: number of the point below, and part of the way to the next. */
export interface Places {
  readonly point: Int32Array;
  readonly part: Float64Array;
}

/** Places of energies, eV, for all detectors. */
export function placesOf(energiesEv: Float64Array): Places {
  const point = new Int32Array(energiesEv.length);
  const part = new Float64Array(energiesEv.length);
  for (let i = 0; i < point.length; i++) {
    const position = positionOf(energiesEv[i]);
    point[i] = Math.floor(position);
    part[i] = position - point[i];
  }
  return { point, part };
}

const positionOf = (energyEv: number): number =>
  Math.min(POINTS - 1.000001, Math.max(0, (log(energyEv) - START) * PER_STEP));

const LOWEST_EV = 30;
const HIGHEST_EV = 60_000;
const STEP = 1.0025;
const POINTS = Math.ceil(log(HIGHEST_EV / LOWEST_EV) / log(STEP)) + 2;
const PER_STEP = 1 / log(STEP);
const START = log(LOWEST_EV);

/** Fields of a detector that shape peaks and leave the efficiency alone. */
const PEAK_FIELDS: ReadonlySet<keyof Detector> = new Set<keyof Detector>(['noiseEv', 'fano', 'pairEv']);

/** Sets of layers memoised: a session sees one or two detectors, each with some layers in doubt. */
const REMEMBERED = 24;

const tableByLayers = memoise(REMEMBERED, layersKey, createTable);
/** The same by the detector itself: who asks for its table asks again. */
const TABLES = new WeakMap<Detector, EfficiencyTable>();

/** Table of a detector's efficiency. */
export function efficiencyTable(detector: Detector): EfficiencyTable {
  let table = TABLES.get(detector);
  if (!table) TABLES.set(detector, (table = tableByLayers(detector)));
  return table;
}

function createTable(detector: Detector): EfficiencyTable {
  const grid = Float64Array.from({ length: POINTS }, (_, k) => efficiency(detector, LOWEST_EV * power(STEP, k)));
  let lines: Float64Array | undefined;
  return {
    get lines() {
      return (lines ??= LINE_TABLE.energyEv.map((energy) => efficiency(detector, energy)));
    },
    at(energyEv) {
      const position = positionOf(energyEv);
      const k = Math.floor(position);
      return grid[k] + (position - k) * (grid[k + 1] - grid[k]);
    },
    atPlaces: (places, out) => putBetween(grid, places, out),
  };
}

/** Values of a table at places between its points. */
function putBetween(grid: Float64Array, { point, part }: Places, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = grid[point[i]] + part[i] * (grid[point[i] + 1] - grid[point[i]]);
}

/** All that efficiency() depends on: the detector less what shapes its peaks. */
function layersKey(detector: Detector): string {
  return Object.entries(detector)
    .filter(([field]) => !PEAK_FIELDS.has(field as keyof Detector))
    .map(([field, value]) => `${field}=${String(value)}`)
    .join(' ');
}

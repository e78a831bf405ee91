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
}

const LOWEST_EV = 30;
const HIGHEST_EV = 60_000;
const STEP = 1.0025;
const POINTS = Math.ceil(Math.log(HIGHEST_EV / LOWEST_EV) / Math.log(STEP)) + 2;

/** Fields of a detector that shape peaks and leave the efficiency alone. */
const PEAK_FIELDS: ReadonlySet<keyof Detector> = new Set<keyof Detector>(['noiseEv', 'fano', 'pairEv']);

/** Sets of layers memoised: a session sees one or two detectors, each with some layers in doubt. */
const REMEMBERED = 24;

/** Table of a detector's efficiency. */
export const efficiencyTable: (detector: Detector) => EfficiencyTable = memoise(REMEMBERED, layersKey, createTable);

function createTable(detector: Detector): EfficiencyTable {
  const grid = Float64Array.from({ length: POINTS }, (_, k) => efficiency(detector, LOWEST_EV * power(STEP, k)));
  let lines: Float64Array | undefined;
  const perStep = 1 / Math.log(STEP);
  const start = Math.log(LOWEST_EV);
  return {
    get lines() {
      return (lines ??= LINE_TABLE.energyEv.map((energy) => efficiency(detector, energy)));
    },
    at(energyEv) {
      const position = Math.min(POINTS - 1.000001, Math.max(0, (Math.log(energyEv) - start) * perStep));
      const k = Math.floor(position);
      return grid[k] + (position - k) * (grid[k + 1] - grid[k]);
    },
  };
}

/** All that efficiency() depends on: the detector less what shapes its peaks. */
function layersKey(detector: Detector): string {
  return Object.entries(detector)
    .filter(([field]) => !PEAK_FIELDS.has(field as keyof Detector))
    .map(([field, value]) => `${field}=${String(value)}`)
    .join(' ');
}

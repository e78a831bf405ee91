import { LINE_TABLE } from '../atomic/lines.ts';
import { addScaled, type Column } from './column.ts';
import { efficiencyTable } from './efficiency-table.ts';
import { groupsOf, summedLines, type LineGroup } from './groups.ts';
import type { Instrument } from './instrument.ts';
import { addLine, newLineSum, type LineDerivatives, tabledNature, widen } from './line-columns.ts';
import { radiativeAugerBands } from './radiative-auger.ts';
import { lifted } from './slate.ts';

/** Expected counts of one element per unit amount (mass fraction times dose), over the whole axis. */
export interface ElementTemplate {
  readonly z: number;
  readonly column: Column;
  /** Area of all its lines, counts per unit amount, inside and outside the axis. */
  readonly area: number;
}

/** One line group of an element, with what the fit needs to doubt it. */
export interface GroupTemplate {
  readonly group: LineGroup;
  /** Expected counts per unit amount of the element. */
  readonly column: Column;
  readonly derivatives: Readonly<Record<keyof LineDerivatives, Column>>;
  readonly area: number;
  /** Area-weighted mean energy, eV. */
  readonly energyEv: number;
}

/** Lines weaker than this share of an element's strongest line leave no trace in a spectrum. */
const NEGLIGIBLE = 1e-5;

/**
 * Detected area of every line per unit mass fraction: emission × efficiency × group centre, LINE_TABLE order.
 * @param areas where they go: those of other elements stay as they are
 */
export function lineAreas(
  emitted: Float64Array,
  instrument: Instrument,
  zs: readonly number[],
  areas: Float64Array = new Float64Array(LINE_TABLE.count),
): Float64Array {
  const efficiency = efficiencyTable(instrument.detector).lines;
  for (const z of zs) {
    for (const group of groupsOf(z)) {
      for (const i of group.lines) {
        if (emitted[i] > 0) areas[i] = emitted[i] * group.centre * efficiency[i];
      }
    }
  }
  return areas;
}

/** Template of one element: all its lines at the physics' own ratios. */
export function elementTemplate(z: number, areas: Float64Array, instrument: Instrument, n: number): ElementTemplate {
  const sum = newLineSum(n, false);
  const strongest = strongestArea(z, areas);
  let area = 0;
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
    const lineArea = areas[i];
    if (lineArea <= NEGLIGIBLE * strongest) continue;
    area += lineArea;
    addLine(sum, instrument, tabledNature(i), lineArea, lineArea / strongest);
  }
  for (const { column, fraction } of radiativeAugerBands(z, areas, instrument, n)) {
    addScaled(sum.value, column, fraction);
    widen(sum, column.lo, column.hi);
  }
  return { z, column: lifted(sum.value, sum.from, sum.to), area };
}

/** Templates of an element's groups one by one, with derivatives. Their columns sum to the element's template. */
export function groupTemplates(z: number, areas: Float64Array, instrument: Instrument, n: number): GroupTemplate[] {
  const strongest = strongestArea(z, areas);
  const templates: GroupTemplate[] = [];
  for (const { group, area, energyEv } of emittedGroups(z, areas)) {
    const sum = newLineSum(n, true);
    for (const i of group.lines) {
      const lineArea = areas[i];
      if (lineArea <= NEGLIGIBLE * strongest) continue;
      addLine(sum, instrument, tabledNature(i), lineArea, lineArea / strongest);
    }
    const column = lifted(sum.value, sum.from, sum.to);
    const { shift, width, near, far } = sum.derivatives!;
    // Shift and width change a shape where it stands; tails may reach beyond it.
    const { lo, hi } = column;
    const derivatives = {
      shift: lifted(shift, lo - 1, hi + 1),
      width: lifted(width, lo - 1, hi + 1),
      near: lifted(near, sum.from, sum.to),
      far: lifted(far, sum.from, sum.to),
    };
    templates.push({ group, column, derivatives, area, energyEv });
  }
  return templates;
}

/** The groups of an element that have lines worth drawing, with their area and mean energy. */
export function emittedGroups(z: number, areas: Float64Array): Pick<GroupTemplate, 'group' | 'area' | 'energyEv'>[] {
  const least = NEGLIGIBLE * strongestArea(z, areas);
  const emitted: Pick<GroupTemplate, 'group' | 'area' | 'energyEv'>[] = [];
  for (const group of groupsOf(z)) {
    const { area, energyEv } = summedLines(group.lines, areas, least);
    if (area > 0) emitted.push({ group, area, energyEv });
  }
  return emitted;
}

/** Escape peaks of an element alone, counts per channel and unit amount. */
export function escapeTemplate(z: number, areas: Float64Array, instrument: Instrument, n: number): Column {
  const sum = newLineSum(n, false, true);
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
    if (areas[i] > 0) addLine(sum, instrument, tabledNature(i), areas[i], 0);
  }
  lifted(sum.value, sum.from, sum.to);
  return lifted(sum.escape!, sum.from, sum.to);
}

function strongestArea(z: number, areas: Float64Array): number {
  let strongest = 0;
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) strongest = Math.max(strongest, areas[i]);
  return strongest;
}

import type { Member } from '../model/nuisances.ts';
import type { Layout } from './layout.ts';

/** Heights of an element's line groups as fitted, relative to what its amount and the physics give; by group name. */
export type GroupHeights = ReadonlyMap<string, number>;

/** Beyond these the fit is on its way, and no height is to be trusted. */
const LEAST = 0.05;
const MOST = 20;

/**
 * Heights that a solution gives the line groups of each member, by atomic number. Where K and L lines are far from their expected ratio (a beam
 * energy told wrongly, a film, a tilted facet), a move of the axis changes the counts by these heights and not by the expected ones: with
 * the latter every move would overshoot, and the fit never settle.
 */
export function groupHeights(
  layout: Layout,
  members: readonly Member[],
  coefficients: Float64Array,
): ReadonlyMap<number, GroupHeights> {
  const heights = new Map<number, GroupHeights>();
  for (const { template, groups, amount } of members) {
    const fitted = coefficients[layout.templates.indexOf(template)];
    if (!(fitted > 0)) continue;
    // Every nuisance of the element is free of its template: what it takes off of it, it takes off of every group.
    let common = fitted;
    const group = new Map<string, number>();
    const family = new Map<string, number>();
    for (let i = 0; i < layout.nuisances.length; i++) {
      const { owner, kind, label, column } = layout.nuisances[i];
      if (owner !== template.z) continue;
      const value = coefficients[layout.nuisance(i)];
      if (column.less?.of === template.column) common -= value * column.less.share;
      if (kind === 'group-ratio') group.set(label, amount * value);
      if (kind === 'family-ratio') family.set(label[0], amount * value);
    }
    const heightOf = (name: string, of: string): number => common + (group.get(name) ?? 0) + (family.get(of) ?? 0);
    heights.set(
      template.z,
      new Map(
        groups.map(({ group: { name, family: of } }) => [
          name,
          Math.min(MOST, Math.max(LEAST, heightOf(name, of) / fitted)),
        ]),
      ),
    );
  }
  return heights;
}

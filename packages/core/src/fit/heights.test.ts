import { describe, expect, it } from 'vitest';
import type { Member } from '../model/nuisances.ts';
import { groupHeights } from './heights.ts';
import type { Layout } from './layout.ts';

const column = {};
const template = { z: 26, column };
const groups = [
  { group: { name: 'Kα', family: 'K' } },
  { group: { name: 'Kβ', family: 'K' } },
  { group: { name: 'Lα', family: 'L' } },
];
const member = { template, groups, amount: 2, heights: [1, 1, 1] } as unknown as Member;

function layoutOf(nuisances: readonly object[]): Layout {
  return { templates: [template], nuisances, nuisance: (i: number) => 1 + i } as unknown as Layout;
}
const heightsOf = (nuisances: readonly object[], ...coefficients: number[]) => [
  ...(groupHeights(layoutOf(nuisances), [member], Float64Array.from(coefficients)).get(26)?.values() ?? []),
];
/** A ratio whose column was freed of a share of the template. */
const ratio = (kind: string, label: string, share: number) => ({
  owner: 26,
  kind,
  label,
  column: { less: { of: column, share } },
});

describe('heights of line groups', () => {
  it('are those of the physics where nothing bends them', () => {
    expect(heightsOf([], 4)).toEqual([1, 1, 1]);
    expect(heightsOf([{ owner: 8, kind: 'group-ratio', label: 'Kβ', column: {} }], 4, 9)).toEqual([1, 1, 1]);
  });

  it('rise with the group and its family, and sink with what was taken off of the template', () => {
    // Amount 4; K beta by 2 x 0.5, L by 2 x 3, all less by 0.5 x 0.4 + 3 x 0.6 = 2: (2, 3, 8) over 4.
    const bent = [ratio('group-ratio', 'Kβ', 0.4), ratio('family-ratio', 'L to K', 0.6)];
    expect(heightsOf(bent, 4, 0.5, 3).map((height) => Number(height.toFixed(9)))).toEqual([0.5, 0.75, 2]);
  });

  it('stay within bounds, and are not told of an element that the fit gave nothing', () => {
    expect(heightsOf([ratio('family-ratio', 'L to K', 0)], 1, 100)).toEqual([1, 1, 20]);
    expect(heightsOf([ratio('group-ratio', 'Kα', 0)], 1, -3)).toEqual([0.05, 1, 1]);
    expect(heightsOf([], 0)).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import type { Explanation } from './explanations.ts';
import { areFamily } from './family.ts';
import { materialById, MATERIALS } from './knowledge.ts';
import { gathered, type Shared } from './same-grain.ts';

const material = (id: string) => materialById(id)!;
const alike = (a: string, b: string): boolean => areFamily(material(a), material(b));

// Compositions: the formulas of data/pigments/materials.csv, each with its source there.
describe('a family', () => {
  it('shows the same elements in the same shares', () => {
    for (const [a, b] of [
      ['azurite', 'malachite'],
      ['chalk', 'lime-white'],
      ['vermilion', 'cinnabar'],
      ['lead-white', 'red-lead'],
    ] as const)
      expect([a, b, alike(a, b), alike(b, a)]).toEqual([a, b, true, true]);
  });

  it('is left by another element, or by another share of one', () => {
    for (const [a, b] of [
      ['azurite', 'atacamite'],
      ['chrome-yellow', 'viridian'],
      ['lead-tin-yellow-i', 'lead-tin-yellow-ii'],
      ['muscovite', 'feldspar-potassium'],
    ] as const)
      if (!alike(a, b)) expect(alike(b, a)).toBe(false);
    expect(alike('azurite', 'atacamite')).toBe(false);
    expect(alike('chrome-yellow', 'viridian')).toBe(false);
    expect(alike('lead-white', 'lead-antimonate-yellow')).toBe(false);
  });

  it('holds types of one pigment that the trade calls one, whatever a neighbour may bring', () => {
    expect(alike('lead-tin-yellow-i', 'lead-tin-yellow-ii')).toBe(true);
    expect(alike('green-earth-celadonite', 'green-earth-glauconite')).toBe(true);
    expect(alike('smalt', 'smalt-leached')).toBe(false);
  });

  it('of lead is not split by sulfur, which lies under its M lines', () => {
    expect(alike('lead-white', 'lead-sulfate-white')).toBe(true);
  });
});

/** As much of each as told. */
const explained = (share: number, parts: Record<string, number>): Shared =>
  ({
    share,
    materials: Object.keys(parts).map((id) => ({ material: material(id) })),
    mixture: { fractions: Float64Array.from(Object.values(parts)) },
  }) as unknown as Shared;
const idsOf = ({ materials }: Explanation): string[] => materials.map((part) => part.material.id);

describe('explanations that tell the same grain', () => {
  it('add up: that an earth is there can be surer than which', () => {
    const alone = explained(0.4, { chalk: 1 });
    const ochre = explained(0.3, { chalk: 0.8, 'yellow-ochre': 0.2 });
    const sienna = explained(0.3, { chalk: 0.8, 'raw-sienna': 0.2 });
    const [first, second] = gathered([alone, ochre, sienna], 6).map(({ explanations }) => explanations);
    expect(first.map(idsOf)).toEqual([idsOf(ochre), idsOf(sienna)]);
    expect(second.map(idsOf)).toEqual([idsOf(alone)]);
  });

  it('may differ in a trace, and the plainer one stands for both', () => {
    const plain = explained(0.6, { chalk: 1 });
    const trace = explained(0.4, { chalk: 0.97, 'madder-lake': 0.03 });
    expect(gathered([plain, trace], 6).map(({ explanations }) => explanations.map(idsOf))).toEqual([
      [idsOf(plain), idsOf(trace)],
    ]);
  });

  it('may differ in what the elements of the others hide: it may be there or not', () => {
    const alone = explained(0.5, { smalt: 1 });
    const beside = explained(0.4, { smalt: 0.6, quartz: 0.4 });
    const lead = explained(0.1, { smalt: 0.6, 'lead-white': 0.4 });
    const [first, second] = gathered([alone, beside, lead], 6);
    expect(first.explanations.map(idsOf)).toEqual([idsOf(alone), idsOf(beside)]);
    expect(first.perhaps.map((one) => [one.material.id, Number(one.share.toFixed(2))])).toEqual([['quartz', 0.44]]);
    expect(second.explanations.map(idsOf)).toEqual([idsOf(lead)]);
  });

  it('hold what is hidden for certain where most of their weight asks for it', () => {
    const alone = explained(0.2, { smalt: 1 });
    const beside = explained(0.8, { smalt: 0.6, quartz: 0.4 });
    const [first] = gathered([beside, alone], 6);
    expect([first.explanations.map(idsOf), first.perhaps]).toEqual([[idsOf(beside)], []]);
  });

  it('are gathered as often as asked', () => {
    const all = ['chalk', 'vermilion', 'azurite', 'smalt'].map((id, i) => explained(0.4 - 0.1 * i, { [id]: 1 }));
    expect(gathered(all, 2)).toHaveLength(2);
    expect(gathered([], 2)).toEqual([]);
  });

  /** Which explanations the first gathering holds, and what may lie beside. */
  const first = (...shared: readonly Shared[]) => {
    const [{ explanations, perhaps }] = gathered(shared, 6);
    return { held: explanations.map(idsOf), perhaps: perhaps.map((one) => one.material.id) };
  };
  const smalt = (share: number, quartz = 0): Shared =>
    explained(share, quartz > 0 ? { smalt: 1 - quartz, quartz } : { smalt: 1 });

  it('are told apart by a twentieth of the materials, and no less', () => {
    const plain = explained(0.6, { chalk: 1 });
    expect(first(plain, explained(0.4, { chalk: 0.951, vermilion: 0.049 })).held).toHaveLength(2);
    expect(first(plain, explained(0.4, { chalk: 0.95, vermilion: 0.05 })).held).toHaveLength(1);
  });

  it('are met by one of the family that is more than 3 %, and by none that is less', () => {
    const white = explained(0.6, { vermilion: 0.9, chalk: 0.1 });
    const met = (share: number): string[][] =>
      first(white, explained(0.4, { vermilion: 1 - share, 'lime-white': share })).held;
    expect(met(0.03)).toHaveLength(2);
    expect(met(0.029)).toHaveLength(1);
  });

  it('hold besides what three quarters of them lack, and name what three in twenty hold', () => {
    expect(first(smalt(0.25), smalt(0.75, 0.4)).perhaps).toEqual(['quartz']);
    expect(first(smalt(0.86), smalt(0.14, 0.4)).perhaps).toEqual([]);
    expect(first(smalt(0.85), smalt(0.15, 0.4)).perhaps).toEqual(['quartz']);
    // What is likelier than that to be there is part of the grain.
    expect(first(smalt(0.76, 0.4), smalt(0.24)).held[0]).toEqual(['smalt', 'quartz']);
  });

  it('name of a family that may lie beside the likelier one, for all of it', () => {
    const like = MATERIALS.find(({ id }) => id !== 'quartz' && alike('quartz', id))!.id;
    const beside = (quartz: number, other: number) =>
      gathered([smalt(0.5), smalt(quartz, 0.4), explained(other, { smalt: 0.6, [like]: 0.4 })], 6)[0].perhaps.map(
        ({ material: { id }, share }) => [id, Number(share.toFixed(9))],
      );
    expect(beside(0.2, 0.3)).toEqual([[like, 0.5]]);
    expect(beside(0.3, 0.2)).toEqual([['quartz', 0.5]]);
  });

  it('are headed by the likeliest of those that stand for nearly as much', () => {
    const [a, b] = [explained(0.5, { chalk: 1 }), explained(0.5, { 'lime-white': 1 })];
    expect(first(a, b).held[0]).toEqual(['chalk']);
    expect(first(b, a).held[0]).toEqual(['lime-white']);
  });
});

import { describe, expect, it } from 'vitest';
import { MAX_Z, zOf } from '../atomic/elements.ts';
import type { Amount, Evidence } from './evidence.ts';
import type { Explanation } from './explanations.ts';
import { grouped } from './group.ts';
import type { Material } from './knowledge.ts';
import type { Mixture } from './mixture.ts';
import type { Part } from './part.ts';
import { PRIORS } from './priors.ts';
import type { Candidate, Weighed } from './weigh.ts';

/** The whole, copper, lead, mercury: what is alike holds as much of each. */
const SYMBOLS = ['Cu', 'Pb', 'Hg', 'Zn', 'Sn', 'Sb', 'Cd', 'Ba'];
const evidence = {
  amounts: ['whole', ...SYMBOLS].map(
    (symbol) => ({ symbol, kind: 'measured', counting: 0.01, physics: 0.2 }) as Amount,
  ),
  joint: {
    places: SYMBOLS.map((_, i) => i + 1),
    counting: new Float64Array(SYMBOLS.length ** 2),
    physics: Float64Array.from({ length: SYMBOLS.length ** 2 }, (_, i) => (i % (SYMBOLS.length + 1) === 0 ? 0.04 : 0)),
  },
} as unknown as Evidence;

interface Given extends Partial<Pick<Material, 'usualness' | 'class' | 'earliest' | 'latest'>> {
  /** Its only element. */
  readonly of: string;
  readonly lnAmounts?: number;
  readonly untestable?: boolean;
  readonly allowed?: boolean;
}

/** A material that holds nothing but one element, alone at half of the grain. */
function candidate(id: string, { of, lnAmounts = -5, untestable = false, allowed = true, ...more }: Given): Candidate {
  const fractions = new Float64Array(MAX_Z + 1);
  fractions[zOf(of)!] = 1;
  const material = {
    ...{ id, name: id, class: 'pigment', usualness: 'common', earliest: 1500, latest: null, spread: 0 },
    ...{ required: [of], fractions },
    ...more,
  } as unknown as Material;
  const loose = new Float64Array(SYMBOLS.length + 1);
  const part = { material, loose, restsOnOpen: false } as unknown as Part;
  const held = Float64Array.from(['whole', ...SYMBOLS], (symbol) => (symbol === of ? 0.5 : 0));
  const alone = { parts: [part], held, fractions: Float64Array.of(0.5) } as unknown as Mixture;
  const best = { ...alone, lnAmounts, lnWeight: lnAmounts } as unknown as Mixture;
  const fitted = untestable ? { alone: null, best: null } : { alone, best };
  return { material, room: { most: 1, scarcest: null }, part, ...fitted, needed: true, untestable, allowed };
}

const explanation = (lnWeight: number, ...of: readonly Candidate[]): Explanation => ({
  mixture: { parts: of.map(({ part }) => part), fractions: Float64Array.from(of, () => 0.4) } as unknown as Mixture,
  materials: of.map(({ part }) => part!),
  lnWeight,
});
const groupsOf = (candidates: readonly Candidate[], explanations: readonly Explanation[]) =>
  grouped({ candidates, explanations, evidence } as unknown as Weighed);
const ids = (members: readonly Candidate[]): string => members.map(({ material: { id } }) => id).join();

describe('materials that these amounts cannot tell apart', () => {
  const groups = (candidates: readonly Candidate[]): string[] =>
    groupsOf(candidates, [explanation(0)]).groups.map(({ members }) => ids(members));

  it('are a group, unless one explains them twenty times worse', () => {
    const head = candidate('a', { of: 'Cu' });
    expect(groups([head, candidate('b', { of: 'Cu', lnAmounts: -5 - Math.log(19.9) })])).toEqual(['a,b']);
    expect(groups([head, candidate('b', { of: 'Cu', lnAmounts: -5 - Math.log(20.1) })])).toEqual(['a', 'b']);
    expect(groups([head, candidate('b', { of: 'Pb' })])).toEqual(['a', 'b']);
    expect(groups([head, candidate('b', { of: 'Cu', allowed: false })])).toEqual(['a']);
  });

  it('stand in the order of their explanations’ weights, equals by how usual they are', () => {
    const common = candidate('common', { of: 'Cu' });
    const others = [
      candidate('rare', { of: 'Cu', usualness: 'rare' }),
      candidate('filler', { of: 'Cu', class: 'filler' }),
      candidate('ground', { of: 'Cu', class: 'ground' }),
      candidate('since 1900', { of: 'Cu', earliest: 1900 }),
      candidate('until 1600', { of: 'Cu', latest: 1600 }),
      candidate('of old', { of: 'Cu', earliest: -3000 }),
      candidate('undated', { of: 'Cu', earliest: null }),
    ];
    // 5000 years are as good as 2000; from 1500 on they are 500, then 100, then 100 again in the order of the file.
    expect(groups([...others, common])).toEqual(['of old,common,since 1900,until 1600,undated,ground,filler,rare']);
  });

  it('are equals within a factor of three of weight', () => {
    const [usual, rare] = [candidate('usual', { of: 'Cu' }), candidate('rare', { of: 'Cu', usualness: 'rare' })];
    const order = (less: number): string => {
      const explanations = [explanation(-1e-9, rare), explanation(-Math.log(less), usual)];
      return ids(groupsOf([usual, rare], explanations).groups[0].members);
    };
    expect(order(2.9)).toBe('usual,rare');
    expect(order(3.1)).toBe('rare,usual');
  });
});

describe('the score of a group', () => {
  const [copper, like, lead, tin] = [
    candidate('copper', { of: 'Cu' }),
    candidate('like', { of: 'Cu' }),
    candidate('lead', { of: 'Pb' }),
    candidate('tin', { of: 'Sn', lnAmounts: -6 }),
  ];
  const told = groupsOf(
    [copper, like, lead, tin],
    [explanation(2, copper), explanation(1, like, lead), explanation(0, lead)],
  );
  const [a, b, c] = [1, Math.exp(-1), Math.exp(-2)];

  it('is the share of all weight whose explanations need one of it', () => {
    const score = (id: string): number => told.groups.find(({ members }) => ids(members).includes(id))!.score;
    expect(score('copper')).toBeCloseTo((a + b) / (a + b + c), 12);
    expect(score('lead')).toBeCloseTo((b + c) / (a + b + c), 12);
    expect(told.shared.map(({ share }) => share)).toEqual(
      [a, b, c].map((one) => expect.closeTo(one / (a + b + c), 12) as number),
    );
    // What none needs weighs by its own best, beside all others.
    const own = Math.exp(-6 - 2);
    expect(score('tin')).toBeCloseTo(own / (a + b + c + own), 12);
    expect(told.groups.map(({ members }) => ids(members))).toEqual(['copper,like', 'lead', 'tin']);
  });

  it('of what nothing can test is that of one occasional material more than none', () => {
    const hidden = candidate('hidden', { of: 'Zn', untestable: true });
    const { groups } = groupsOf([copper, hidden], [explanation(0, copper), explanation(-3)]);
    const weight = Math.exp(-3 + PRIORS.part.value + PRIORS.occasional.value);
    expect(groups.map(({ members }) => ids(members))).toEqual(['copper', 'hidden']);
    expect(groups[1].score).toBeCloseTo(weight / (1 + Math.exp(-3) + weight), 12);
    expect(groupsOf([copper, hidden], [explanation(0, copper)]).groups[1].score).toBe(0);
  });
});

describe('what explains a grain', () => {
  it('is told in six ways at most', () => {
    const all = SYMBOLS.map((of) => candidate(of, { of }));
    const { combinations } = groupsOf(
      all,
      all.map((one, i) => explanation(-i, one)),
    );
    expect(combinations).toHaveLength(6);
    expect(combinations.map(({ groups }) => ids(groups[0].members))).toEqual(SYMBOLS.slice(0, 6));
    expect(combinations[0].score).toBeGreaterThan(combinations[1].score);
  });

  it('is headed by the most usual of those that weigh within a tenth as much', () => {
    const [rare, usual] = [candidate('rare', { of: 'Cu', usualness: 'rare' }), candidate('usual', { of: 'Cu' })];
    const best = (behind: number): string => {
      const [{ best: one }] = groupsOf([rare, usual], [explanation(0, rare), explanation(-behind, usual)]).combinations;
      return one.materials[0].material.id;
    };
    expect([best(0.09), best(0.11)]).toEqual(['usual', 'rare']);
  });

  it('holds only what is allowed', () => {
    const [copper, lead] = [candidate('copper', { of: 'Cu' }), candidate('lead', { of: 'Pb', allowed: false })];
    const { shared } = groupsOf([copper, lead], [explanation(1, lead), explanation(0, copper)]);
    expect(shared.map(({ materials, share }) => [materials[0].material.id, share])).toEqual([['copper', 1]]);
  });
});

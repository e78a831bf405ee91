import { describe, expect, it } from 'vitest';
import { inventedMaterial } from '../../../../tests/fixtures/invented-material.ts';
import { MAX_Z, zOf } from '../atomic/elements.ts';
import type { Amount, Evidence } from './evidence.ts';
import type { Material } from './knowledge.ts';
import { partOf } from './part.ts';

const amount = (symbol: string, value: number, more: Partial<Amount> = {}): Amount => ({
  ...{ symbol, z: zOf(symbol) ?? 0, kind: 'measured', seen: true, value, counting: 0.01, physics: 0.2, limit: null },
  ...more,
});
function evidence(...amounts: readonly Amount[]): Evidence {
  const all = [amount('whole', 1, { kind: 'at-most' }), ...amounts];
  const place = new Int16Array(MAX_Z + 1).fill(-1);
  all.forEach(({ z }, i) => (place[z] = i));
  return { amounts: all, place, joint: { places: [], counting: new Float64Array(0), physics: new Float64Array(0) } };
}
const smalt = inventedMaterial({ Si: 0.4, Co: 0.08, As: 0.04, O: 0.48 }, 'Co Si', {
  companions: ['Ni', 'Bi'],
  spread: 0.1,
});
const seen = evidence(amount('O', 0.5), amount('Si', 0.3), amount('Co', 0.02), amount('Ni', 0.01), amount('As', 0.05));

describe('a material as the evidence sees it', () => {
  const { holds, places, loose, along, room } = partOf(smalt, seen);

  it('holds its elements where they are told, and is a part of the whole', () => {
    expect([...holds]).toEqual([1, 0.48, 0.4, 0.08, 0, 0.04]);
    expect([...places]).toEqual([0, 1, 2, 3, 5]);
    expect([...partOf(smalt, evidence(amount('Si', 0.3))).holds]).toEqual([1, 0.4]);
  });

  it('is loose by its spread in what it requires or what does not tell, by a factor of e in the rest', () => {
    expect([...loose]).toEqual([0, 0.1, 0.1, 0.1, 0, 1]);
    expect(partOf(inventedMaterial({ As: 0.5, Co: 0.5 }, 'Co', { spread: 1.5 }), seen).loose[5]).toBe(1.5);
  });

  it('brings half a per cent of its companions along', () => {
    expect([...along]).toEqual([0, 0, 0, 0, 0.005, 0]);
  });

  it('has room for what its scarcest element leaves, two standard deviations granted', () => {
    expect(room.scarcest?.symbol).toBe('Co');
    expect(room.most).toBeCloseTo(((0.02 + 2 * 0.01) * Math.exp(2 * Math.hypot(0.2, 0.1))) / 0.08, 12);
    // Of plenty the whole grain may be made.
    expect(partOf(inventedMaterial({ Si: 0.2, O: 0.3 }, 'Si'), seen).room).toEqual({ most: 1, scarcest: null });
  });

  it('rests on open elements where none of what it requires and what tells is sure', () => {
    const open = { kind: 'at-most' } as const;
    const rests = (of: Material, ...amounts: readonly Amount[]): boolean =>
      partOf(of, evidence(...amounts)).restsOnOpen;
    expect(rests(smalt, amount('Si', 0.3, open), amount('Co', 0.02, open))).toBe(true);
    expect(rests(smalt, amount('Si', 0.3), amount('Co', 0.02, open))).toBe(false);
    expect(rests(smalt, amount('Co', 0.02, open))).toBe(true);
    expect(rests(smalt, amount('As', 0.3, open))).toBe(false);
    expect(rests(inventedMaterial({ C: 1 }, 'C'), amount('C', 0.3, open))).toBe(false);
  });

  it('is less likely where an element that it requires is not seen, or cannot be', () => {
    const prior = (...amounts: readonly Amount[]): number => partOf(smalt, evidence(...amounts)).lnPrior;
    const [silicon, cobalt] = [amount('Si', 0.3), amount('Co', 0.02)];
    expect(prior(silicon)).toBeLessThan(prior(silicon, cobalt));
    expect(prior(silicon, { ...cobalt, kind: 'not-seen' })).toBe(prior(silicon));
    expect(prior(silicon, { ...cobalt, kind: 'at-most' })).toBe(prior(silicon, cobalt));
  });
});

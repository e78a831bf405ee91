// Look-alikes of the pigment knowledge: what elements do not tell apart is linked, both ways.
import { describe, expect, it } from 'vitest';
import { symbolOf, zOf } from '../packages/core/src/atomic/elements.ts';
import {
  fractionIn,
  knownLookalikes,
  KNOWLEDGE_SOURCES,
  LOOKALIKE_SETS,
  type Material,
  materialById,
  MATERIALS,
} from '../packages/core/src/pigments/knowledge.ts';

const KEYS = new Set(KNOWLEDGE_SOURCES.map(({ key }) => key));

/** Required elements that every detector shows. */
const requiredOf = ({ required }: Material): string => required.filter(isHeavy).sort().join();
const isHeavy = (symbol: string): boolean => symbol === 'F' || zOf(symbol)! >= 11;

/**
 * Whether heavy elements tell two materials apart: one holds a fiftieth of an element that the other neither holds nor often has
 * beside it, or two required elements stand in a ratio that differs by more than two standard deviations of both.
 */
function differ(a: Material, b: Material): boolean {
  const [inA, inB] = [a, b].map(heavyParts);
  const stands = ([symbol, part]: [string, number], other: Material): boolean =>
    part >= 0.02 && fractionIn(other, symbol) === 0 && !other.companions.includes(symbol);
  if ([...inA].some((own) => stands(own, b)) || [...inB].some((own) => stands(own, a))) return true;
  const spread = Math.hypot(a.spread, b.spread, 0.1);
  const needed = a.required.filter((symbol) => inA.has(symbol) && inB.has(symbol));
  const shift = needed.map((symbol) => Math.log(inA.get(symbol)! / inB.get(symbol)!));
  return Math.max(...shift) - Math.min(...shift) > 2 * spread;
}

/** Mass fractions among the heavy elements. */
function heavyParts({ fractions }: Material): Map<string, number> {
  const parts = [...fractions].flatMap((part, z): [string, number][] =>
    z > 0 && part > 0 && isHeavy(symbolOf(z)) ? [[symbolOf(z), part]] : [],
  );
  const sum = parts.reduce((total, [, part]) => total + part, 0);
  return new Map(parts.map(([symbol, part]) => [symbol, part / sum]));
}

describe('look-alikes', () => {
  it('hold every two materials of the same required elements that elements do not tell apart', () => {
    const unlinked = MATERIALS.flatMap((a, at) =>
      MATERIALS.slice(at + 1)
        .filter((b) => requiredOf(a) === requiredOf(b) && !knownLookalikes(a.id).has(b.id) && !differ(a, b))
        .map((b) => `${a.id} ${b.id}`),
    );
    expect(unlinked).toEqual([]);
  });

  it('name known materials, at least two, with reason, technique and source', () => {
    for (const { members, why, toldApartBy, source } of LOOKALIKE_SETS) {
      expect(members.filter((id) => materialById(id) === undefined)).toEqual([]);
      expect(new Set(members).size).toBe(members.length);
      expect(members.length).toBeGreaterThan(1);
      expect(why).not.toBe('');
      expect(toldApartBy).not.toBe('');
      for (const key of source) expect(KEYS).toContain(key);
    }
  });

  it('hold both ways', () => {
    for (const { id } of MATERIALS)
      for (const other of knownLookalikes(id)) expect(knownLookalikes(other)).toContain(id);
  });
});

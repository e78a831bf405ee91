import { describe, expect, it } from 'vitest';
import { areAlike, sameParts } from './alike.ts';
import type { Amount, Evidence } from './evidence.ts';
import { LOOKALIKE_SETS } from './knowledge.ts';
import type { Mixture } from './mixture.ts';
import type { Part } from './part.ts';

/** The whole; copper and arsenic, measured, whose physics hang together; iron that is not seen; sulfur that others may hold. */
const PHYSICS = [0.04, 0.09];
const COMMON = 0.02;
const kinds: readonly Amount['kind'][] = ['at-most', 'measured', 'measured', 'not-seen', 'at-most'];
const evidence = {
  amounts: kinds.map((kind) => ({ kind, counting: 0.004, physics: 0.2 }) as Amount),
  joint: {
    places: [1, 2],
    counting: new Float64Array(4),
    physics: Float64Array.of(PHYSICS[0], COMMON, COMMON, PHYSICS[1]),
  },
} as unknown as Evidence;
/** What counting and impurities hide: hypot(0.004, 0.003). */
const HIDDEN = 0.005;

interface Given {
  readonly id?: string;
  readonly required?: readonly string[];
  readonly held: readonly number[];
  readonly loose?: readonly number[];
}
const alone = ({ id = 'x', required = ['Cu'], held, loose = [0, 0, 0, 0, 0] }: Given): Mixture =>
  ({
    parts: [{ material: { id, required }, loose: Float64Array.from(loose) }],
    held: Float64Array.from(held),
  }) as unknown as Mixture;
/** As much of an element that its logarithm, what hides counted, lies so far from that of 0.2. */
const off = (by: number): number => (0.2 + HIDDEN) * Math.exp(by) - HIDDEN;
const usual = [1, 0.2, 0.1, 0, 0];
const alike = (a: Omit<Given, 'held'> & Partial<Given>, b: Omit<Given, 'held'> & Partial<Given>): boolean =>
  areAlike(alone({ held: usual, ...a }), alone({ held: usual, ...b }), evidence);

describe('materials that amounts cannot tell apart', () => {
  // Copper alone differs: against the covariance of both, its variance without what arsenic tells of it.
  const sigma = Math.sqrt(PHYSICS[0] - COMMON ** 2 / PHYSICS[1]);

  it('are nearer than two standard deviations', () => {
    expect(alike({}, { held: [1, off(1.99 * sigma), 0.1, 0, 0] })).toBe(true);
    expect(alike({}, { held: [1, off(2.01 * sigma), 0.1, 0, 0] })).toBe(false);
    expect(alike({}, { held: [1, off(-2.01 * sigma), 0.1, 0, 0] })).toBe(false);
  });

  it('are nearer than four where the trade says that elements do not tell them', () => {
    const [a, b] = LOOKALIKE_SETS[0].members;
    const at = (sigmas: number, id: string): boolean =>
      alike({ id: a }, { id, held: [1, off(sigmas * sigma), 0.1, 0, 0] });
    expect([at(3.99, b), at(4.01, b), at(3.99, 'y')]).toEqual([true, false, false]);
  });

  it('may lie farther apart the looser they are', () => {
    const loose = [0, 0.3, 0, 0, 0];
    const wide = Math.sqrt(PHYSICS[0] + 2 * 0.3 ** 2 - COMMON ** 2 / PHYSICS[1]);
    expect(alike({ loose }, { loose, held: [1, off(1.99 * wide), 0.1, 0, 0] })).toBe(true);
    expect(alike({ loose }, { loose, held: [1, off(2.01 * wide), 0.1, 0, 0] })).toBe(false);
  });

  it('differ by what is not seen as well, and not by what others may hold', () => {
    // From nothing, ln(HIDDEN), by the physics of one element.
    const iron = (sigmas: number): number => HIDDEN * Math.exp(sigmas * 0.2) - HIDDEN;
    expect(alike({}, { held: [1, 0.2, 0.1, iron(1.99), 0] })).toBe(true);
    expect(alike({}, { held: [1, 0.2, 0.1, iron(2.01), 0] })).toBe(false);
    expect(alike({}, { held: [1, 0.2, 0.1, 0, 0.9] })).toBe(true);
  });

  it('need an element in common', () => {
    expect(alike({ required: ['Cu', 'As'] }, { required: ['As'] })).toBe(true);
    expect(alike({ required: ['Cu'] }, { required: ['As'] })).toBe(false);
  });
});

it('one fit does for parts that are nearer than a third of a standard deviation, the first of them at the head', () => {
  const sigma = Math.sqrt(PHYSICS[0] - COMMON ** 2 / PHYSICS[1]);
  const names = ['first', 'near', 'far', 'near far'];
  const parts = names.map((name) => ({ name }) as unknown as Part);
  const at = [0, 0.31, 0.33, 0.6].map((sigmas) => alone({ held: [1, off(sigmas * sigma), 0.1, 0, 0] }));
  const groups = sameParts(new Map(parts.map((part, k) => [part, at[k]])), evidence);
  expect(groups.map((group) => group.map((part) => names[parts.indexOf(part)]))).toEqual([
    ['first', 'near'],
    ['far', 'near far'],
  ]);
});

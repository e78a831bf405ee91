import { describe, expect, it } from 'vitest';
import { inventedMaterial } from '../../../../tests/fixtures/invented-material.ts';
import { atomicWeight } from '../atomic/elements.ts';
import type { Finding } from '../identify/finding.ts';
import type { Amount } from './evidence.ts';
import type { Material } from './knowledge.ts';
import type { Mixture } from './mixture.ts';
import type { Part } from './part.ts';
import { allowance, exclusion, type FindingMap } from './reason.ts';
import type { Candidate, Weighed } from './weigh.ts';

const green = inventedMaterial({ Cu: 0.4, As: 0.2, O: 0.4 }, 'Cu As', { name: 'green' });
const amount = (symbol: string, kind: Amount['kind'] = 'measured'): Amount => ({ symbol, kind, value: 0.1 }) as Amount;
const found = (symbol: string, more: Partial<Finding>): Finding =>
  ({ symbol, verdict: 'present', origin: 'specimen', massFraction: null, limit: null, ...more }) as Finding;
const findings = (...all: readonly Finding[]): FindingMap => new Map(all.map((one) => [one.symbol, one]));
const measured = (symbol: string, value: number): Finding =>
  found(symbol, { massFraction: { value, sigma: 0.1 * value } });

interface Given {
  readonly most?: number;
  readonly scarcest?: Amount | null;
  readonly deviations?: readonly number[];
  readonly best?: boolean;
  readonly more?: Partial<Candidate>;
}
/** The green beside chalk in its best explanation, which holds 0.3 of it. */
function candidate({
  most = 1,
  scarcest = null,
  deviations = [0, 1, 9, 2],
  best = true,
  more = {},
}: Given = {}): Candidate {
  const part = { material: green } as unknown as Part;
  const beside = { material: inventedMaterial({ Ca: 0.4 }, 'Ca', { name: 'chalk' }) } as unknown as Part;
  const mixture = {
    parts: [beside, part],
    fractions: Float64Array.of(0.5, 0.3),
    held: Float64Array.of(0.8, 0.11, 0.22, 0.33),
    deviations: Float64Array.from(deviations),
    lnAmounts: -8,
  } as unknown as Mixture;
  const alone = { held: Float64Array.of(0.6) } as unknown as Mixture;
  return {
    ...{ material: green, room: { most, scarcest } },
    ...{ part, alone, best: best ? mixture : null, needed: true, untestable: false, allowed: false },
    ...more,
  };
}
const weighed = {
  most: -3,
  evidence: { amounts: ['whole', 'Ca', 'Cu', 'As'].map((one) => amount(one)) },
} as unknown as Weighed;
const excluded = (given: Given, all: FindingMap = findings()) => exclusion(candidate(given), weighed, all);

describe('why a material is ruled out', () => {
  it('is what its best mixture misses most, from two standard deviations on', () => {
    expect(excluded({})).toEqual({
      ...{ kind: 'misfit', beside: ['chalk'], amount: amount('Cu'), held: 0.22 },
      // Twice the difference of the logarithms.
      worse: 10,
    });
    expect(excluded({ deviations: [0, 1, 4, 2] }).kind).toBe('misfit');
    expect(excluded({ deviations: [0, 1, 3.99, 2] })).toEqual({ kind: 'not-needed', beside: ['chalk'], worse: 10 });
  });

  it('is an element that leaves no room for more than a trace', () => {
    const arsenic = amount('As');
    // 0.2 of copper asks for half of the grain, and that for 0.1 of arsenic.
    const told = excluded({ most: 0.02, scarcest: arsenic }, findings(measured('Cu', 0.2)));
    expect(told).toMatchObject({ kind: 'no-room', material: 'green', scarce: arsenic, most: 0.02, open: false });
    expect(told).toHaveProperty('expected', 0.1);
    expect(excluded({ most: 0.49, scarcest: arsenic }, findings(measured('Cu', 0.2))).kind).toBe('misfit');
    // A quarter of a grain is room enough, whatever is asked.
    expect(excluded({ most: 0.24, scarcest: arsenic }, findings(measured('Cu', 0.2))).kind).toBe('no-room');
    expect(excluded({ most: 0.25, scarcest: arsenic }, findings(measured('Cu', 0.2))).kind).toBe('misfit');
    expect(excluded({ most: 0.24, scarcest: arsenic }, findings(measured('Cu', 0.08))).kind).toBe('misfit');
  });

  it('is no open element: how much of it there is nobody knows; and where none is measured, what it would hold alone asks', () => {
    expect(excluded({ most: 0.02, scarcest: amount('As', 'at-most') }, findings(measured('Cu', 0.2))).kind).toBe(
      'misfit',
    );
    expect(excluded({ most: 0.2, scarcest: amount('As') })).toMatchObject({ kind: 'no-room', expected: null });
    const little = { alone: { held: Float64Array.of(0.1) } as unknown as Mixture };
    expect(excluded({ most: 0.2, scarcest: amount('As'), more: little }).kind).toBe('misfit');
  });

  it('is an element that leaves none, or that nothing of it shows', () => {
    const open = findings(found('As', { verdict: 'open' }), measured('Cu', 3));
    expect(excluded({ best: false, most: 0.001, scarcest: amount('As') }, open)).toMatchObject({
      ...{ kind: 'no-room', open: true },
      // No more than all of the grain.
      expected: 0.2,
    });
    expect(excluded({ best: false })).toEqual({ kind: 'no-trace', material: 'green' });
  });
});

describe('why a material is allowed', () => {
  const allowed = (all: FindingMap, more: Partial<Candidate> = {}, of: Material = green) =>
    allowance({ ...candidate(), material: of, ...more }, all);

  it('is what it holds, beside what, with its first two elements against each other', () => {
    const told = allowed(findings(measured('Cu', 0.3), measured('As', 0.1)));
    expect(told).toMatchObject({ kind: 'holds', massFraction: 0.3, beside: ['chalk'], caveats: [] });
    expect(told).toHaveProperty('ratio.symbols', 'Cu:As');
    expect(told).toHaveProperty('ratio.value.value', expect.closeTo(3, 9));
    expect(told).toHaveProperty('ratio.value.sigma', expect.closeTo(3 * Math.hypot(0.1, 0.1), 9));
    expect(told).toHaveProperty('ratio.expected', 2);
    expect(allowed(findings(measured('Cu', 0.3)))).toMatchObject({ ratio: null });
    expect(allowed(findings(measured('Cu', 0.3)), { needed: false })).toMatchObject({ massFraction: null });
  });

  it('is weakened by elements that are open, hidden, not seen or of the setting', () => {
    const caveats = (...all: readonly Finding[]) => (allowed(findings(...all)) as { caveats: unknown }).caveats;
    expect(caveats(found('Cu', { verdict: 'open' }), measured('As', 0.1))).toEqual([{ kind: 'open', symbols: ['Cu'] }]);
    expect(caveats(measured('Cu', 0.1))).toEqual([{ kind: 'blind', symbols: ['As'] }]);
    expect(caveats(measured('Cu', 0.1), found('As', { verdict: 'blind' }))).toEqual([
      { kind: 'blind', symbols: ['As'] },
    ]);
    const limit = { counts: 10, massFraction: 0.02 };
    expect(caveats(measured('Cu', 0.1), found('As', { verdict: 'not-seen', limit }))).toEqual([
      { kind: 'not-seen', symbol: 'As', limit: 0.02 },
    ]);
    expect(caveats(measured('Cu', 0.1), found('As', { verdict: 'not-seen' }))).toMatchObject([{ limit: null }]);
    expect(caveats(measured('Cu', 0.1), found('As', { origin: 'setting' }))).toEqual([
      { kind: 'setting', symbols: ['As'] },
    ]);
    expect(caveats(measured('Cu', 0.1), found('As', { origin: 'either' }))).toEqual([]);
  });

  it('is argued against by another element, atom by atom, that is present', () => {
    const against = [{ element: 'Cl', per: 'Cu', above: 0.5, reason: 'a chloride' }];
    const salt = inventedMaterial({ Cu: 0.4, As: 0.2 }, 'Cu As', { against });
    const chlorine = (atoms: number, more: Partial<Finding> = {}): Finding => {
      const value = (atoms * 0.2 * atomicWeight(17)) / atomicWeight(29);
      return found('Cl', { massFraction: { value, sigma: 0.1 * value }, ...more });
    };
    const told = (one: Finding) =>
      (allowed(findings(measured('Cu', 0.2), measured('As', 0.1), one), {}, salt) as { caveats: unknown }).caveats;
    expect(told(chlorine(0.51))).toEqual([
      { kind: 'against', ratio: 'Cl/Cu', value: expect.closeTo(0.51, 9) as number, reason: 'a chloride' },
    ]);
    expect(told(chlorine(0.49))).toEqual([]);
    expect(told(chlorine(0.51, { verdict: 'open' }))).toEqual([]);
  });

  it('where nothing can test it, is what hides; where others explain its elements, how much of it there could be', () => {
    const untestable = { untestable: true, best: null };
    expect(allowed(findings(), untestable)).toEqual({ kind: 'not-testable', hidden: ['Cu', 'As'] });
    expect(allowed(findings(found('Cu', { verdict: 'blind' })), untestable)).toMatchObject({ kind: 'not-testable' });
    expect(allowed(findings(measured('Cu', 0.2)), untestable)).toEqual({ kind: 'spare', most: 1 });
  });
});

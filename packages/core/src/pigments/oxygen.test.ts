import { describe, expect, it } from 'vitest';
import type { Amount, Evidence } from './evidence.ts';
import { lnNitrogenOf, lnOxygenOf } from './oxygen.ts';
import { PRIORS } from './priors.ts';

/** Evidence of these elements alone, by atomic number. */
function evidence(stated: Readonly<Record<number, Partial<Amount>>>): Evidence {
  const amounts = Object.entries(stated).map(([z, one]) => ({ z: Number(z), seen: true, ...one }) as Amount);
  const place = new Int16Array(99).fill(-1);
  amounts.forEach(({ z }, i) => (place[z] = i));
  return { amounts, place, joint: { places: [], counting: new Float64Array(0), physics: new Float64Array(0) } };
}
const held = (...values: readonly number[]): Float64Array => Float64Array.from(values);
const [C, N, O] = [6, 7, 8];
/** -z² / 2 of what is lacking, no less than the most that it weighs. */
const cost = (lack: number, value: number, counting: number): number =>
  Math.max(PRIORS.mostOxygen.value, -((lack / Math.hypot(counting, PRIORS.oxygenDoubt.value * value)) ** 2) / 2);

describe('oxygen', () => {
  const of = (value: number, counting: number, holds: number) =>
    lnOxygenOf(evidence({ [O]: { value, counting } }), held(holds));

  it('counts from four standard deviations', () => {
    expect(of(0.04, 0.01, 0)).toBeCloseTo(cost(0.04, 0.04, 0.01), 12);
    expect(of(0.0399, 0.01, 0)).toBe(0);
    expect(lnOxygenOf(evidence({ [C]: { value: 0.3, counting: 0.01 } }), held(0))).toBe(0);
  });

  it('weighs by what neither the parts nor the medium hold, to a limit', () => {
    expect(of(0.3, 0.01, 0.2)).toBeCloseTo(cost(0.1, 0.3, 0.01), 12);
    expect(of(0.3, 0.01, 0.3)).toBe(0);
    expect(of(0.3, 0.01, 0.31)).toBe(0);
    // Medium of 0.2 carbon brings 0.12.
    const beside = evidence({ [C]: { value: 0.2, counting: 0.01 }, [O]: { value: 0.3, counting: 0.01 } });
    expect(lnOxygenOf(beside, held(0, 0.1))).toBeCloseTo(cost(0.08, 0.3, 0.01), 12);
    expect(of(0.5, 0.001, 0)).toBeGreaterThanOrEqual(PRIORS.mostOxygen.value);
  });
});

describe('nitrogen', () => {
  const of = (one: Partial<Amount>, holds: number) => lnNitrogenOf(evidence({ [N]: one }), held(holds));

  it('that is seen costs what brings it, and what no protein could hold', () => {
    expect(of({ value: 0.04, counting: 0.01 }, 0)).toBeCloseTo(
      PRIORS.nitrogenBrought.value + cost(0.04, 0.04, 0.01),
      12,
    );
    const beside = evidence({ [C]: { value: 0.5, counting: 0.01 }, [N]: { value: 0.1, counting: 0.01 } });
    expect(lnNitrogenOf(beside, held(0, 0))).toBe(PRIORS.nitrogenBrought.value);
  });

  it('is no matter where it is not seen, or where a material holds 30 % of it', () => {
    expect(of({ value: 0.0399, counting: 0.01 }, 0)).toBe(0);
    expect(of({ value: 0.1, counting: 0.01, seen: false }, 0)).toBe(0);
    expect(of({ value: 0.1, counting: 0.01 }, 0.031)).toBe(0);
    expect(of({ value: 0.1, counting: 0.01 }, 0.03)).toBeLessThan(0);
    expect(lnNitrogenOf(evidence({}), held())).toBe(0);
  });
});

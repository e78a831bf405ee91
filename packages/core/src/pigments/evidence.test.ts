import { describe, expect, it } from 'vitest';
import { findingsOf, type Said } from '../../../../tests/fixtures/amounts.ts';
import { type Amount, evidenceOf, isTelling, WHOLE } from './evidence.ts';

const LEAD_WHITE = { '2PbCO3*Pb(OH)2': 1 };
const amount = (symbol: string, said: Record<string, Said> = {}, unknownWindow?: boolean): Amount | undefined =>
  evidenceOf(findingsOf(LEAD_WHITE, said), unknownWindow).amounts.find((one) => one.symbol === symbol);

describe('what findings say of amounts', () => {
  it('is measured where present and telling, at most where open, of the setting, or light', () => {
    expect(amount('Pb')).toMatchObject({ kind: 'measured', seen: true });
    expect(amount('Pb', { Pb: { verdict: 'open' } })).toMatchObject({ kind: 'at-most', seen: true });
    expect(amount('Pb', { Pb: { origin: 'setting' } })).toMatchObject({ kind: 'at-most', seen: true });
    expect(amount('C')).toMatchObject({ kind: 'at-most', seen: true });
    expect(amount('Fe')).toMatchObject({ kind: 'not-seen', seen: false, value: 0 });
    expect(amount('N')).toMatchObject({ kind: 'at-most', seen: false });
  });

  it('is nothing where the spectrum is blind, and of oxygen where it is open', () => {
    expect(amount('Pb', { Pb: { verdict: 'blind' } })).toBeUndefined();
    expect(amount('O', { O: { verdict: 'open' } })).toBeUndefined();
    expect(amount('O')).toBeDefined();
  });

  it('is nothing of what is lighter than fluorine behind a window that nobody knows', () => {
    expect(amount('O', {}, true)).toBeUndefined();
    expect(amount('C', {}, true)).toBeUndefined();
    expect(amount('C', {}, false)).toBeDefined();
    expect(amount('F', {}, true)).toBeDefined();
    expect([isTelling('F'), isTelling('O')]).toEqual([true, false]);
  });

  it('adds up to 1, or to 2.1 where no oxygen is recorded', () => {
    expect(amount(WHOLE)?.value).toBe(1);
    expect(amount(WHOLE, {}, true)?.value).toBe(2.1);
    const { amounts, place } = evidenceOf(findingsOf(LEAD_WHITE));
    expect(amounts.map(({ z }) => z)).toEqual([...amounts.map(({ z }) => z)].sort((a, b) => a - b));
    expect(amounts[place[82]].symbol).toBe('Pb');
  });

  it('of an open element reaches to what its rivals hold', () => {
    const findings = findingsOf(LEAD_WHITE).map((one) =>
      one.symbol === 'Bi'
        ? {
            ...one,
            verdict: 'open' as const,
            rivals: [{ kind: 'element' as const, name: 'Pb+Fe', deltaC: 1, settling: [] }],
          }
        : one,
    );
    const bismuth = evidenceOf(findings).amounts.find(({ symbol }) => symbol === 'Bi')!;
    const lead = findings.find(({ symbol }) => symbol === 'Pb')!;
    const { limit } = findings.find(({ symbol }) => symbol === 'Bi')!;
    expect(bismuth.kind).toBe('at-most');
    expect(bismuth.value).toBeCloseTo((lead.counts.value * limit!.massFraction) / limit!.counts, 9);
  });

  it('is doubted by counting, and by faults of the model that counting does not know', () => {
    // 8e5 counts of lead with a sigma of 300; what the model leaves is 5e-4 of the mass.
    const lead = findingsOf(LEAD_WHITE).find(({ symbol }) => symbol === 'Pb')!;
    const value = lead.massFraction!.value;
    const counting = (300 / lead.counts.value) * value;
    expect(amount('Pb')!.counting).toBeCloseTo(Math.hypot(5e-4, counting), 12);
    expect(amount('Pb')!.value).toBe(value);
  });

  it('of what is not seen is told by the scatter of its counts, or by its limit where there is none', () => {
    // 900 counts are 0.003 of the mass: 300 are 0.001.
    expect(amount('Fe')!.counting).toBeCloseTo(Math.hypot(5e-4, 1e-3), 12);
    const still = findingsOf(LEAD_WHITE).map((one) => ({ ...one, counts: { ...one.counts, sigma: 0 } }));
    const iron = evidenceOf(still).amounts.find(({ symbol }) => symbol === 'Fe')!;
    expect(iron.counting).toBeCloseTo(Math.hypot(5e-4, 0.003 / 3.29), 12);
    expect(iron.limit).toBe(0.003);
    // Counts below nothing are none; those above are as much as they say.
    const at = (value: number): number =>
      evidenceOf(still.map((one) => ({ ...one, counts: { value, sigma: 1 } }))).amounts.find(
        ({ symbol }) => symbol === 'Fe',
      )!.value;
    expect(at(-500)).toBe(0);
    expect(at(450)).toBeCloseTo(0.0015, 12);
  });
});

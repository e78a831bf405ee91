import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { atomicWeight, symbolOf, zOf } from '../atomic/elements.ts';
import type { Finding } from '../identify/finding.ts';
import { heldAgainst, referencedFindings } from './held-against.ts';
import type { MeasuredElement, ReferenceGrain } from './reference-grain.ts';
import { comparedWith } from './reference-peaks.ts';
import { contradictedBy, referenceRatios } from './reference-ratios.ts';

/** Counts per mass fraction as the instrument has them, and as the model holds them to be: it takes chromium for half as bright. */
const REAL: Readonly<Record<string, number>> = { Cr: 2e5, Pb: 1e5, S: 3e5 };
const MODEL: Readonly<Record<string, number>> = { Cr: 1e5, Pb: 1e5, S: 3e5 };
const TAKEN = { beamKev: 20, takeOffDeg: 40 };

/** What is measured of mass fractions; `matrix` multiplies the modelled and the real worth of chromium's lines. */
function elementsOf(fractions: Readonly<Record<string, number>>, matrix = 1): MeasuredElement[] {
  const worth = (symbol: string): number => (symbol === 'Cr' ? matrix : 1);
  const found = Object.entries(fractions).map(([symbol, fraction]) => ({
    symbol,
    z: zOf(symbol)!,
    counts: fraction * REAL[symbol] * worth(symbol),
    amount: (fraction * REAL[symbol]) / MODEL[symbol],
  }));
  const total = found.reduce((sum, { amount }) => sum + amount, 0);
  return found.map(({ symbol, z, counts, amount }) => ({
    symbol,
    z,
    present: true,
    counts: { value: counts, sigma: Math.sqrt(counts) },
    massFraction: amount / total,
    line: 'K-L3',
  }));
}

/** A reference; what it is made of differs from its label where `made` is given. */
function reference(name: string, label: string, made = label, more: Partial<ReferenceGrain> = {}): ReferenceGrain {
  const heavy = (formula: string) =>
    [...massFractionsOf(formula)].flatMap((massFraction, z) =>
      z > 10 && massFraction > 0 ? [{ z, massFraction }] : [],
    );
  const fractions = Object.fromEntries(heavy(made).map(({ z, massFraction }) => [symbolOf(z), massFraction]));
  return { name, label, ...TAKEN, stated: heavy(label), elements: elementsOf(fractions), contradictions: [], ...more };
}

const YELLOW = 'PbCrO4';
const ORANGE = 'PbCrO4*PbO';
const grainOf = (formula: string): readonly MeasuredElement[] => reference('', formula).elements;
const CR_PER_PB = atomicWeight(zOf('Cr')!) / atomicWeight(zOf('Pb')!);

describe('a ratio against references', () => {
  it('is what it is, whatever the model makes of the counts', () => {
    const two = [reference('a', YELLOW), reference('b', YELLOW)];
    const [ratio] = referenceRatios(two, grainOf(ORANGE));
    expect(ratio).toMatchObject({ numerator: 'Cr', denominator: 'Pb', by: ['a', 'b'] });
    expect(ratio.value.value).toBeCloseTo(0.5);
    expect(ratio.standardless).toBeCloseTo(1);
    expect(ratio.value.sigma / ratio.value.value).toBeLessThan(0.08);
    expect(ratio.correction).toBeCloseTo(1);
  });

  it('is less sure where the matrix changes more, and where repeats scatter', () => {
    const sigma = (references: readonly ReferenceGrain[], matrix = 1): number => {
      const grain = elementsOf({ Cr: 0.16, Pb: 0.64 }, matrix);
      const { value } = referenceRatios(references, grain)[0];
      return value.sigma / value.value;
    };
    const alike = ['a', 'b', 'c'].map((name) => reference(name, YELLOW));
    const scattered = ['PbCrO4', 'PbCr1.15O4', 'PbCr0.85O4'].map((made, i) => reference(`${i}`, YELLOW, made));
    expect(sigma(alike, 1.5)).toBeGreaterThan(1.5 * sigma(alike));
    expect(sigma(scattered)).toBeGreaterThan(2 * sigma(alike));
    expect(sigma(alike)).toBeLessThan(sigma(alike.slice(0, 1)));
  });

  it('needs both elements in one reference', () => {
    expect(referenceRatios([reference('a', 'PbS')], grainOf(YELLOW))).toEqual([]);
  });
});

describe('a reference that is not what it is said to be', () => {
  it('is found among others, and of two both are set aside', () => {
    const good = [reference('a', YELLOW), reference('b', ORANGE)];
    expect([...contradictedBy(good)]).toEqual([]);
    expect([...contradictedBy([...good, reference('wrong', YELLOW, ORANGE)])]).toEqual(['wrong']);
    expect([...contradictedBy([good[0], reference('wrong', YELLOW, ORANGE)])]).toEqual(['a', 'wrong']);
  });

  it('changes nothing, and neither does one of another beam or angle', () => {
    const finding = (one: MeasuredElement) =>
      ({
        ...one,
        verdict: 'present',
        massFraction: { value: one.massFraction!, sigma: 0.1 },
        lines: [],
      }) as unknown as Finding;
    const findings = grainOf(YELLOW).map(finding);
    const good = [reference('a', YELLOW), reference('b', YELLOW)];
    const bad = [
      reference('wrong', YELLOW, ORANGE),
      reference('mixed', 'PbS', 'PbS', { contradictions: ['Chromium is there.'] }),
      reference('other-beam', ORANGE, YELLOW, { beamKev: 15 }),
      reference('other-angle', ORANGE, YELLOW, { takeOffDeg: 30 }),
    ];
    const [plain, held] = [good, [...good, ...bad]].map((references) => heldAgainst(references, findings, TAKEN));
    expect(held).toEqual({ ...plain, setAside: held.setAside });
    expect(held.setAside.map(({ name, why }) => `${name} ${why}`)).toEqual([
      'wrong other-references',
      'mixed label',
      'other-beam beam',
      'other-angle take-off',
    ]);
    expect(referencedFindings(findings, heldAgainst(bad.slice(1), findings, TAKEN))).toEqual(findings);
    const amounts = new Map(referencedFindings(findings, held).map((one) => [one.symbol, one]));
    const [cr, pb] = [amounts.get('Cr')!, amounts.get('Pb')!];
    expect(cr.massFraction!.value / pb.massFraction!.value).toBeCloseTo(CR_PER_PB);
    const { value, counting } = held.ratios[0];
    expect(Math.hypot(cr.referenced!, pb.referenced!)).toBeCloseTo(
      Math.sqrt(value.sigma ** 2 - counting ** 2) / value.value,
    );
  });
});

describe('peaks side by side', () => {
  it('cannot be told apart where counts alone differ, however many there are', () => {
    const one = reference('a', YELLOW);
    const tenth = grainOf(YELLOW).map((element) => ({
      ...element,
      counts: { value: element.counts.value / 10, sigma: Math.sqrt(element.counts.value / 10) },
    }));
    expect(comparedWith(one, tenth).differing).toEqual([]);
  });

  it('differ by name, the surest first', () => {
    const { differing } = comparedWith(reference('a', YELLOW), grainOf(ORANGE));
    expect(differing.map(({ symbol }) => symbol)).toEqual(['Cr']);
    expect(differing[0].times).toBeCloseTo(0.5);
  });
});

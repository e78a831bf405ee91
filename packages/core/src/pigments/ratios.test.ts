import { describe, expect, it } from 'vitest';
import { finding, pigment } from '../../../../tests/fixtures/record.ts';
import { parseFormula } from '../atomic/composition.ts';
import { atomicWeight, zOf } from '../atomic/elements.ts';
import type { ElementFinding } from '../identify/finding.ts';
import { KNOWLEDGE_SOURCES, KNOWN_RATIOS, materialById } from './knowledge.ts';
import { elementRatios, expectedRatio } from './ratios.ts';

/** An element that is present, by a K line unless told otherwise, known to `relative` by counting. */
function present(symbol: string, massFraction: number, more: Partial<ElementFinding> = {}, relative = 0.01) {
  return finding(symbol, zOf(symbol)!, 1e4, {
    massFraction: { value: massFraction, sigma: 0.1 * massFraction },
    counts: { value: 1e4, sigma: 1e4 * relative },
    lines: [{ line: 'K-L3', siegbahn: null, energyEv: 4000, counts: 1e4 }],
    ...more,
  });
}

const absent = (symbol: string, limit: number): ElementFinding =>
  finding(symbol, zOf(symbol)!, 0, { verdict: 'not-seen', limit: { counts: 100, massFraction: limit } });
const ratio = (id: string, findings: ElementFinding[], material: string) =>
  elementRatios(findings, [pigment(material, material)]).find((found) => found.id === id);

describe('known ratios', () => {
  it('are at least 25, each id once, and speak of known materials, elements and sources', () => {
    expect(KNOWN_RATIOS.length).toBeGreaterThanOrEqual(25);
    expect(new Set(KNOWN_RATIOS.map(({ id }) => id)).size).toBe(KNOWN_RATIOS.length);
    const keys = new Set(KNOWLEDGE_SOURCES.map(({ key }) => key));
    for (const { id, materials, numerator, denominator, source, tells, trust } of KNOWN_RATIOS) {
      expect(
        [...numerator, ...denominator].filter((symbol) => zOf(symbol) === undefined),
        id,
      ).toEqual([]);
      expect(
        materials.filter((material) => materialById(material) === undefined),
        id,
      ).toEqual([]);
      expect(
        source.filter((key) => !keys.has(key)),
        id,
      ).toEqual([]);
      expect(['high', 'medium', 'low']).toContain(trust);
      expect(tells, id).not.toBe('');
    }
  });

  it.each(KNOWN_RATIOS.map((known) => [known.id, known] as const))('%s: the formula lies in the range', (_, known) => {
    const { expected, exact } = expectedRatio(known);
    expect(expected.high).toBeGreaterThanOrEqual(expected.low);
    expect(expected.low).toBeGreaterThanOrEqual(0);
    if (exact === null) return;
    expect(exact).toBeGreaterThanOrEqual(0.995 * expected.low);
    expect(exact).toBeLessThanOrEqual(1.005 * expected.high);
  });

  // The materials of the knowledge and its ratios come from the same handbooks, but were written down apart.
  it.each(KNOWN_RATIOS.flatMap((known) => known.materials.map((id) => [`${id} in ${known.id}`, id, known] as const)))(
    '%s: the composition of the material lies near the range',
    (_, id, known) => {
      const { composition, spread } = materialById(id)!;
      const moles = (symbols: readonly string[]): number =>
        composition.reduce((sum, { formula, massFraction }) => {
          const atoms = parseFormula(formula);
          const held = symbols.reduce((n, symbol) => n + (atoms.get(zOf(symbol)!) ?? 0), 0);
          return sum + (massFraction * held) / weightOf(atoms);
        }, 0);
      const [above, below] = [moles(known.numerator), moles(known.denominator)];
      if (above === 0 || below === 0) return;
      const { expected } = expectedRatio(known);
      expect(above / below).toBeGreaterThanOrEqual(expected.low * (0.99 - spread));
      expect(above / below).toBeLessThanOrEqual(expected.high * (1.01 + spread));
    },
  );
});

const weightOf = (atoms: ReadonlyMap<number, number>): number =>
  [...atoms].reduce((sum, [z, n]) => sum + n * atomicWeight(z), 0);

// Atomic weights by hand: Hg 200.59, S 32.06 (IUPAC 2021, abridged): HgS is 86.22 % and 13.78 %.
describe('measured ratios', () => {
  it('turn mass fractions into atoms', () => {
    const found = ratio('vermilion', [present('Hg', 0.8622), present('S', 0.1378)], 'vermilion')!;
    expect(Math.abs(found.value!.value - 1)).toBeLessThan(1e-3);
    expect(found).toMatchObject({ exact: 1, agrees: 'within', materials: ['vermilion'], limit: null });
  });

  it('keep counting and physics apart, and no physics is surer than a tenth', () => {
    const found = ratio('vermilion', [present('Hg', 0.8622), present('S', 0.1378)], 'vermilion')!;
    expect(Math.abs(found.counting! / Math.SQRT2 / 0.01 - 1)).toBeLessThan(2e-3);
    // Two K lines of one energy: the grain takes both alike, the cross sections are 11 % each.
    expect(Math.abs(found.value!.sigma / Math.hypot(0.01, 0.11) / Math.SQRT2 - 1)).toBeLessThan(2e-3);
  });

  it('an overlap that trades one element for the other widens the counting part', () => {
    const tied = { correlations: [{ symbol: 'S', value: -0.9 }] };
    const alone = ratio('vermilion', [present('Hg', 0.8622), present('S', 0.1378)], 'vermilion')!;
    const other = { correlations: [{ symbol: 'Hg', value: -0.9 }] };
    const both = ratio('vermilion', [present('Hg', 0.8622, tied), present('S', 0.1378, other)], 'vermilion')!;
    expect(Math.abs(both.counting! / alone.counting! / Math.sqrt(1.9) - 1)).toBeLessThan(1e-9);
  });

  it('lines far apart in energy are less sure than lines side by side', () => {
    const far = { lines: [{ line: 'K-L3', siegbahn: null, energyEv: 16_000, counts: 1e4 }] };
    const near = ratio('vermilion', [present('Hg', 0.86), present('S', 0.14)], 'vermilion')!;
    const apart = ratio('vermilion', [present('Hg', 0.86, far), present('S', 0.14)], 'vermilion')!;
    expect(apart.value!.sigma).toBeGreaterThan(1.3 * near.value!.sigma);
  });

  // Beryllium, xraylib CS_Total: 536 cm2/g at 1.041 keV (Na K), 114 at 1.74 keV (Si K); over 9.5 um at 1.848 g/cm3 0.94 and 0.20.
  it('behind a thick window that nothing is known of soft lines say little', () => {
    const at = (energyEv: number) => ({ lines: [{ line: 'K-L3', siegbahn: null, energyEv, counts: 1e4 }] });
    const findings = [present('Na', 0.1, at(1041)), present('Si', 0.3, at(1740))];
    const materials = [pigment('ultramarine-natural', 'Ultramarine')];
    const [thin, thick] = [false, true].map((unknownWindow) => {
      const { value } = elementRatios(findings, materials, { unknownWindow })[0].value!;
      const { sigma } = elementRatios(findings, materials, { unknownWindow })[0].value!;
      return sigma / value;
    });
    expect(Math.abs(Math.sqrt(thick ** 2 - thin ** 2) / 0.74 - 1)).toBeLessThan(0.1);
  });

  it('say above and below from two standard uncertainties on', () => {
    const say = (sulfur: number) =>
      ratio('vermilion', [present('Hg', 0.86), present('S', sulfur)], 'vermilion')!.agrees;
    expect([say(0.05), say(0.13), say(0.3)]).toEqual(['below', 'within', 'above']);
    // Relative uncertainty of both: counting 1 %, cross sections 11 %. S:Hg or Hg:S, as the trade has it.
    const sigma = Math.SQRT2 * Math.hypot(0.01, 0.11);
    const usual = ratio('vermilion', [present('Hg', 0.86), present('S', 0.14)], 'vermilion')!;
    const { low, high } = usual.expected;
    const at = (wanted: number) =>
      ratio('vermilion', [present('Hg', 0.86), present('S', 0.14 * (wanted / usual.value!.value))], 'vermilion')!
        .agrees;
    const [above, below] = [high / (1 - 2 * sigma), low / (1 + 2 * sigma)];
    expect([at(1.01 * above), at(0.99 * above)]).toEqual(['above', 'within']);
    expect([at(0.99 * below), at(1.01 * below)]).toEqual(['below', 'within']);
  });

  it('an element that is open may be there in full, two standard uncertainties granted, or to its limit', () => {
    const open = (value: number, limit: number): ElementFinding =>
      present('S', value, {
        verdict: 'open',
        massFraction: { value, sigma: 0.25 * value },
        limit: { counts: 100, massFraction: limit },
      });
    const most = (sulfur: ElementFinding): number =>
      ratio('vermilion', [present('Hg', 0.8622), sulfur], 'vermilion')!.limit!.ratio;
    // 0.1378 of sulfur go with so much mercury, atom by atom; half as much again is granted.
    expect(Math.abs(most(open(0.01, 0.001)) / ((1.5 * 0.01) / 0.1378) - 1)).toBeLessThan(1e-3);
    expect(Math.abs(most(open(0.01, 0.03)) / (0.03 / 0.1378) - 1)).toBeLessThan(1e-3);
  });

  it('an element below its detection limit gives a limit, on the side it stands', () => {
    const [hg, s] = [present('Hg', 0.8622), present('S', 0.1378)];
    const most = ratio('vermilion', [hg, absent('S', 0.01378)], 'vermilion')!;
    expect(most).toMatchObject({ value: null, limit: { side: 'at-most' }, agrees: 'below' });
    expect(Math.abs(most.limit!.ratio - 0.1)).toBeLessThan(1e-3);
    const least = ratio('vermilion', [absent('Hg', 0.08622), s], 'vermilion')!;
    expect(least).toMatchObject({ limit: { side: 'at-least' }, agrees: 'above' });
    expect(ratio('vermilion', [hg, absent('S', 0.3)], 'vermilion')!.agrees).toBe('limit only');
    expect(Math.abs(least.limit!.ratio - 10)).toBeLessThan(0.05);
  });

  it('a sum without one of its elements is uncertain by what that one could be', () => {
    const [cd, s] = [present('Cd', 0.778), present('S', 0.222)];
    const with1 = ratio('cadmium-zinc-sulfur', [cd, s, absent('Zn', 0.001)], 'cadmium-zinc-yellow')!;
    const with20 = ratio('cadmium-zinc-sulfur', [cd, s, absent('Zn', 0.2)], 'cadmium-zinc-yellow')!;
    expect(Math.abs(with1.value!.value - 1)).toBeLessThan(1e-3);
    expect(with20.value!.sigma).toBeGreaterThan(with1.value!.sigma);
  });

  it('are silent where the spectrum is blind, where both are missing, and on materials that are ruled out', () => {
    const [hg, s] = [present('Hg', 0.86), present('S', 0.14)];
    expect(ratio('vermilion', [hg, { ...s, verdict: 'blind', limit: null }], 'vermilion')).toBeUndefined();
    expect(ratio('vermilion', [absent('Hg', 0.01), absent('S', 0.01)], 'vermilion')).toBeUndefined();
    expect(elementRatios([hg, s], [pigment('vermilion', 'Vermilion', { standing: 'ruled-out' })])).toEqual([]);
  });

  it('name what else holds the elements', () => {
    const findings = [present('Ca', 0.3), present('S', 0.2)];
    const gypsum = pigment('gypsum', 'Gypsum', { beside: ['chalk', 'quartz'] });
    expect(elementRatios(findings, [gypsum])[0].alsoIn).toEqual(['chalk']);
  });

  it('those of the best material come first', () => {
    const findings = ['Pb', 'Sn', 'Hg', 'S'].map((symbol) => present(symbol, 0.25));
    const told = elementRatios(findings, [pigment('vermilion', 'v'), pigment('lead-tin-yellow-i', 'l')]);
    expect(told.map(({ id }) => id)).toEqual(['vermilion', 'lead-tin-yellow-i-tin']);
  });
});

import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import { wordedDateQuestion, wordedDating } from '../telling/words/dates.ts';
import { type DatingData, datingArguments } from './dating.ts';
import { materialById } from './knowledge.ts';
import { matchGrain } from './match.ts';
import { dateQuestions } from './out-of-place.ts';
import type { ExplanationShare } from './standing.ts';

const of = (share: number, ...parts: [id: string, massFraction: number][]): ExplanationShare => ({
  parts: parts.map(([id, massFraction]) => ({ id, massFraction })),
  share,
});
const argued = (...shares: ExplanationShare[]): DatingData[] => datingArguments([], shares);

describe('a dating argument', () => {
  it('is the year of the part that came into use last', () => {
    const [only] = argued(of(1, ['zinc-white', 0.5], ['vermilion', 0.3]));
    expect(only).toMatchObject({
      year: materialById('zinc-white')!.earliest,
      probability: 1,
      materials: ['zinc-white'],
    });
    expect(only.inPainting).toBe(materialById('zinc-white')!.firstPainting);
  });

  it('is made for what three quarters of the weight say, and for what nine tenths say', () => {
    const found = argued(of(0.8, ['viridian', 0.5]), of(0.18, ['chromium-oxide-green', 0.5]), of(0.02, ['chalk', 1]));
    expect(found.map(({ year, probability }) => [year, probability])).toEqual([
      [materialById('viridian')!.earliest, 0.8],
      [materialById('chromium-oxide-green')!.earliest, 0.98],
    ]);
    expect(found[1].materials).toEqual(['viridian', 'chromium-oxide-green']);
  });

  it('names what sets its year, however little of the weight that is', () => {
    const [, sure] = argued(of(0.88, ['viridian', 1]), of(0.03, ['orpiment', 1]), of(0.09, ['feldspar-sodium', 1]));
    expect(sure.materials).toEqual(['viridian', 'orpiment']);
    expect(sure.year).toBe(materialById('orpiment')!.earliest);
  });

  it('names no other that came as early as what weighs most', () => {
    const [told] = argued(of(0.95, ['lithopone', 1]), of(0.05, ['zinc-dust', 0.2], ['barium-sulfate-natural', 0.8]));
    expect(told).toMatchObject({ year: 1850, materials: ['lithopone'] });
  });

  it('is not made of a trace, a contaminant, an alteration product or an undated material, nor kept from being made', () => {
    expect(argued(of(1, ['zinc-white', 0.049], ['lead-white', 0.951]))[0].materials).toEqual(['lead-white']);
    expect(argued(of(1, ['zinc-white', 0.05], ['lead-white', 0.95]))[0].materials).toEqual(['zinc-white']);
    expect(argued(of(1, ['zinc-soap', 0.9]))).toEqual([]);
    expect(argued(of(1, ['house-dust', 0.4], ['quartz', 0.2], ['zinc-white', 0.3]))[0].materials).toEqual([
      'zinc-white',
    ]);
  });

  it('is not made where less than three quarters of the weight argue', () => {
    const zinc = (share: number) => argued(of(share, ['zinc-white', 1]), of(1 - share, ['feldspar-sodium', 1]));
    expect(zinc(0.74)).toEqual([]);
    expect(zinc(0.75).map(({ year }) => year)).toEqual([1782]);
    // What nine tenths argue is the same year here, and is told once.
    expect(zinc(0.9)).toHaveLength(1);
  });

  it('is not made of what shows by chlorine or carbon alone: chlorine in an old glass is no dioxazine violet', () => {
    expect(argued(of(1, ['dioxazine-violet', 0.2], ['indigo', 0.3]))).toEqual([]);
    const [glass] = argued(of(1, ['dioxazine-violet', 0.2], ['potash-glass', 0.7]));
    expect(glass.materials).toEqual(['potash-glass']);
  });

  it('names its weakest link', () => {
    const kind = (share: number, id: string): string =>
      argued(of(share, [id, 1]), of(1 - share, ['muscovite', 1]))[0].weakestLink.kind;
    expect(kind(0.99, 'chromium-oxide-green')).toBe('knowledge');
    expect(kind(0.8, 'chromium-oxide-green')).toBe('explanation');
    const zinc = findingsOf({ ZnO: 1 }).map((one) => (one.symbol === 'Zn' ? { ...one, probability: 0.55 } : one));
    expect(datingArguments(zinc, [of(1, ['zinc-white', 1])])[0].weakestLink).toMatchObject({
      kind: 'element',
      symbol: 'Zn',
    });
  });
});

// Amounts of the pure materials (formulas of the table) in oil; years are the table's own, with their sources in it.
describe('the dated pigments each give their year', () => {
  it.each<[string, Record<string, number>, string[]]>([
    ['emerald-green', { 'Cu(C2H3O2)2*3Cu(AsO2)2': 0.8 }, ['emerald-green']],
    ['cobalt-blue', { CoAl2O4: 0.8 }, ['cobalt-blue']],
    ['zinc-white', { ZnO: 0.8 }, ['zinc-white']],
    ['chrome-yellow', { PbCrO4: 0.8 }, ['chrome-yellow', 'chrome-orange']],
    ['cadmium-yellow', { CdS: 0.8 }, ['cadmium-yellow', 'cadmium-orange-sulfide']],
    ['cadmium-red', { 'CdS0.6Se0.4': 0.8 }, ['cadmium-red', 'cadmium-orange']],
    ['viridian', { 'Cr2O3*2H2O': 0.8 }, ['viridian', 'chromium-oxide-green']],
    ['titanium-white-rutile', { TiO2: 0.8 }, ['titanium-white-anatase', 'titanium-white-rutile']],
    ['lithopone', { BaSO4: 0.56, ZnS: 0.24 }, ['lithopone']],
    ['lead-tin-yellow-i', { Pb2SnO4: 0.8 }, ['lead-tin-yellow-i']],
    ['smalt', { SiO2: 0.54, K2O: 0.12, CoO: 0.048, As2O3: 0.032, Fe2O3: 0.02, Al2O3: 0.012, CaO: 0.016 }, ['smalt']],
  ])('%s', (_id, parts, family) => {
    const findings = findingsOf({ ...parts, C18H32O2: 0.2 });
    const sure = datingArguments(findings, matchGrain(findings).shares).at(-1)!;
    expect(sure.probability).toBeGreaterThan(0.9);
    expect(sure.year).toBe(Math.min(...family.map((one) => materialById(one)!.earliest!)));
  });

  it('Prussian blue too, once the colour is seen', () => {
    const findings = findingsOf({ 'Fe4(Fe(CN)6)3*14H2O': 0.6, C18H32O2: 0.4 });
    const blue = matchGrain(findings, { observed: (parts) => (parts[0]?.material.hue === 'blue' ? 0 : -3) });
    expect(datingArguments(findings, blue.shares)[0]).toMatchObject({ year: 1704, materials: ['prussian-blue'] });
    expect(datingArguments(findings, matchGrain(findings).shares).map(({ year }) => year)).not.toContain(1704);
  });
});

describe('what must not date', () => {
  const years = (parts: Record<string, number>): number[] => {
    const findings = findingsOf(parts);
    return datingArguments(findings, matchGrain(findings).shares).map(({ year }) => year);
  };

  it('a trace of chlorine in a rock, titanium in an old glass', () => {
    expect(years({ SiO2: 0.7, KAlSi3O8: 0.296, Cl: 0.004 }).filter((year) => year > 1000)).toEqual([]);
    const glass = { SiO2: 0.68, Na2O: 0.13, CaO: 0.1, MgO: 0.03, K2O: 0.03, Al2O3: 0.016, TiO2: 0.004, MnO: 0.01 };
    expect(Math.max(-Infinity, ...years(glass))).toBeLessThanOrEqual(1400);
  });
});

describe('what is out of place for a stated date', () => {
  const zinc = argued(of(1, ['zinc-white', 1]));
  const explanation = (id: string) => ({
    parts: [{ id, name: id, group: 1, massFraction: { value: 1, sigma: 0.1 }, others: [] }],
  });
  const questions = (year: number) => dateQuestions(year, [], [explanation('zinc-white')], zinc);

  it('is asked, not judged', () => {
    const [question] = questions(1620);
    expect(question).toMatchObject({ subject: 'Zinc white', kind: 'too-early', years: 1782 - 1620 });
    expect(wordedDateQuestion(question).question).toMatch(/^Zinc white is known from about 1782.*\?.*weakest link/i);
  });

  it('is nothing when the dates agree, or nearly do', () => {
    expect(questions(1900)).toEqual([]);
    // Dates of use are known to 25 years.
    expect(questions(1782 - 25)).toEqual([]);
    expect(questions(1782 - 26)).toHaveLength(1);
  });

  it('asks about what had long gone out of use', () => {
    const { latest } = materialById('lead-tin-yellow-i')!;
    const ask = (year: number): string[] =>
      dateQuestions(year, [], [explanation('lead-tin-yellow-i')], []).map(({ kind }) => kind);
    expect(ask(latest! + 200)).toEqual(['out-of-use']);
    // Old stock lasts for 50 years.
    expect(ask(latest! + 50)).toEqual([]);
    expect(ask(latest! + 51)).toEqual(['out-of-use']);
  });
});

it('the sentence is conditional, with its share and both dates', () => {
  const [zinc] = argued(of(0.98, ['zinc-white', 1]), of(0.02, ['chalk', 1]));
  expect(wordedDating(zinc).reason).toBe(
    'If it is zinc white, fit 0.98: not before about 1782, in painting from about 1834.',
  );
});

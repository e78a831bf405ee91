import { describe, expect, it } from 'vitest';
import type { ElementFinding } from '../identify/finding.ts';
import { datingArguments } from './dating.ts';
import { materialById } from './knowledge.ts';
import { dateQuestions } from './out-of-place.ts';
import { wordedDateQuestion } from '../telling/words/dates.ts';
import type { GrainExplanation, PigmentStanding } from './standing.ts';

function finding(symbol: string, z: number, more: Partial<ElementFinding> = {}): ElementFinding {
  return {
    symbol,
    z,
    verdict: 'present',
    probability: 0.999,
    counts: { value: 1e4, sigma: 100 },
    massFraction: { value: 0.4, sigma: 0.04, counting: 0.004, physics: 0.04 },
    limit: null,
    under: null,
    origin: 'specimen',
    evidence: { deltaC: 1e4, margin: 1e4 },
    correlations: [],
    lines: [],
    rivals: [],
    reason: '',
    ...more,
  };
}

function allowed(id: string, group = 1): PigmentStanding {
  const { name, class: kind, hue, earliest, latest } = materialById(id)!;
  return {
    id,
    name,
    formula: '',
    class: kind,
    hue,
    required: [],
    standing: 'allowed',
    score: 0.9,
    group,
    massFraction: null,
    beside: [],
    deltaC: 0,
    reason: '',
    lookalikes: [],
    toldApartBy: [],
    followUp: '',
    hazard: '',
    earliestUse: earliest,
    latestUse: latest,
  };
}

const explanationOf = (id: string, group = 1): GrainExplanation => ({
  name: id,
  parts: [{ id, name: id, group, massFraction: { value: 1, sigma: 0.1 }, others: [] }],
  score: 1,
  chi2: 0,
  degrees: 1,
  leftOver: [],
});

describe('a dating argument', () => {
  it('is as old as the oldest material that brings the element', () => {
    const only = datingArguments([finding('Zn', 30)], [allowed('zinc-white')]);
    expect(only.map(({ year }) => year)).toEqual([materialById('zinc-white')!.earliest]);
  });

  it('names its weakest link', () => {
    const link = (more: Partial<ElementFinding>): string =>
      datingArguments([finding('Zn', 30, more)], [allowed('zinc-white')])[0].weakestLink.kind;
    expect(link({})).toBe('few-materials');
    expect(link({ probability: 0.55 })).toBe('element');
    expect(link({ massFraction: { value: 0.004, sigma: 0.001, counting: 0.001, physics: 0.001 } })).toBe('trace');
  });

  it('is not made of an element that is open', () => {
    expect(datingArguments([finding('Zn', 30, { verdict: 'open' })], [allowed('zinc-white')])).toEqual([]);
  });
});

describe('what is out of place for a stated date', () => {
  const zinc = [finding('Zn', 30)];
  const standings = [allowed('zinc-white')];
  const questions = (year: number): ReturnType<typeof dateQuestions> =>
    dateQuestions(year, zinc, standings, [explanationOf('zinc-white')], datingArguments(zinc, standings));

  it('is asked, not judged', () => {
    const [question] = questions(1620);
    expect(question).toMatchObject({
      subject: 'Zn',
      kind: 'too-early',
      years: materialById('zinc-white')!.earliest! - 1620,
    });
    expect(wordedDateQuestion(question).question).toMatch(/\?.*weakest link/i);
  });

  it('is nothing when the dates agree, or nearly do', () => {
    expect(questions(1900)).toEqual([]);
    expect(questions(materialById('zinc-white')!.earliest! - 10)).toEqual([]);
  });

  it('asks about what had long gone out of use', () => {
    const tin = allowed('lead-tin-yellow-i');
    expect(tin.latestUse).not.toBeNull();
    const ask = (year: number): string[] =>
      dateQuestions(year, [], [tin], [explanationOf('lead-tin-yellow-i')], []).map(({ kind }) => kind);
    expect(ask(tin.latestUse! + 200)).toEqual(['out-of-use']);
    expect(ask(tin.latestUse! + 20)).toEqual([]);
  });
});

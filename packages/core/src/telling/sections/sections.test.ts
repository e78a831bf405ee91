import { describe, expect, it } from 'vitest';
import { finding, invented, pigment } from '../../../../../tests/fixtures/record.ts';
import type { ElementFinding } from '../../identify/finding.ts';
import type { ElementRatio } from '../../pigments/ratios.ts';
import { treeText } from '../terminal.ts';
import type { Length, Node } from './tree.ts';
import { summary } from './answer.ts';
import { asked } from './asked.ts';
import { axisSentence, conditionsSentence, fitSentence, smoothSentence } from './conditions.ts';
import { statedYear } from './dating.ts';
import { elements } from './elements.ts';
import { couldHide } from './hidden.ts';
import { limits } from './limits.ts';
import { materials } from './materials.ts';
import { open } from './open.ts';
import { ratios } from './ratios.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const told = (node: Node | null, length: Length = 'full'): string =>
  node === null ? '' : treeText({ title: '', nodes: [node] }, { length, width: 140 });

describe('the answer', () => {
  it('says what is required, what surrounds, what is open, what nothing explains, what fits', () => {
    expect(plain(summary(invented()))).toBe(
      'The counts require lead and tin. Oxygen is also present, from the specimen or the mounting. ' +
        'Open: antimony (or tin). Nothing explains the peak at 5.412 keV. ' +
        'Best fit: lead-tin yellow, type I or tin oxide white.',
    );
  });

  it('claims nothing when the counts require nothing', () => {
    expect(summary(invented({ elements: [], peaks: [], pigments: [], explanations: [] }))).toBe(
      'The counts require no element that must come from the specimen. No element is open.',
    );
  });

  it('begins with what went wrong, and ends there where nothing is present', () => {
    const warnings = [
      { code: 'not-settled', text: '' },
      { code: 'photon-excited', text: '' },
    ];
    expect(summary(invented({ warnings, elements: [] }))).toBe(
      'The lines look excited by X-rays, not by electrons. Nothing is called present.',
    );
    expect(summary(invented({ warnings: [{ code: 'poor-fit', text: '' }] }))).toMatch(
      /^The model fits poorly\. The counts require lead and tin\./,
    );
  });

  it('names the whole grain where it takes more than one material', () => {
    const part = (id: string, name: string) => ({
      id,
      name,
      group: 1,
      massFraction: { value: 0.5, sigma: 0.1 },
      others: [],
    });
    const grain = {
      name: 'Lead-tin yellow, type I with chalk',
      parts: [part('a', 'Lead-tin yellow, type I'), part('b', 'Chalk')],
      score: 0.9,
      chi2: 1,
      degrees: 1,
      perhaps: [],
      leftOver: [],
    };
    expect(summary(invented({ explanations: [grain] }))).toMatch(/Best fit: lead-tin yellow, type I with chalk\.$/);
  });
});

describe('measurement and fit', () => {
  it('say where the beam energy comes from unless the file gave it', () => {
    const { conditions } = invented();
    expect(plain(conditionsSentence(invented()))).toBe('Beam 20 keV, 412 345 counts in 60 s live time, 2048 channels.');
    const assumed = invented({
      conditions: { ...conditions, beamKev: { value: 15, origin: 'default' }, liveTimeS: null },
    });
    expect(plain(conditionsSentence(assumed))).toBe('Beam 15 keV (assumed), 412 345 counts, 2048 channels.');
  });

  it('give the shift of the axis where the lines are', () => {
    // Channel of 2000 eV on the settled axis: (2000 + 3.2) / 10.004 = 200.24; the header puts it at 2002.4 eV.
    expect(plain(axisSentence(invented()))).toMatch(
      /shifted from the file.s by -2\.4 ± 0\.6 eV at 2 keV and 0\.8 ± 0\.6 eV at 10 keV/,
    );
  });

  it('tell a good fit from a poor one, and smoothed counts from counted ones', () => {
    const { fit } = invented();
    expect(fitSentence(invented())).toMatch(/to within their noise/);
    expect(fitSentence(invented({ fit: { ...fit, c: 4000 } }))).toMatch(/does not fit to within counting noise/);
    expect(smoothSentence(invented({ fit: { ...fit, dispersion: 0.4 } }))).toMatch(/averaged or re-binned/);
  });
});

describe('the elements', () => {
  const text = told(elements(invented()));

  it('are one table, with the digits that their uncertainty bears', () => {
    expect(text).toMatch(/Sn +tin +present +> 99\.9 % +17\.8 ± 1\.2 +41 200 ± 400/);
    expect(text).toMatch(/Pb +lead +present +> 99\.9 % +61 ± 4 +80 800 ± 600/);
  });

  it('name lines by both names, and rivals with what they cost', () => {
    expect(text).toMatch(/Sn L3-M5 \(Lα1\) 3\.444 +20 900 +310 +21 020 ± 190/);
    expect(text).toMatch(/Ca\+Sb \(3700\)/);
  });

  it('count the elements of a rival that takes many, and leave its lines out', () => {
    const rival = { kind: 'element' as const, name: 'B+N+Al+S+K', deltaC: 60, settling: [] };
    const many = told(elements(invented({ elements: [finding('O', 8, 500, { rivals: [rival] })] })));
    expect(many).toMatch(/five together \(60\)/);
    expect(many).not.toContain('line that settles it');
  });

  it('say which amounts hang together', () => {
    const correlations = [{ symbol: 'S', value: -0.82 }];
    expect(told(elements(invented({ elements: [finding('Pb', 82, 500, { correlations })] })))).toContain(
      'Its counts trade off against those of S (correlation -0.82).',
    );
  });
});

describe('what is open', () => {
  it('comes with what would settle it', () => {
    const text = told(open(invented()), 'brief');
    expect(text).toMatch(/- Antimony\. Sn L3-M5 \(Lα1\) at 3\.444 keV tells them apart/);
    expect(text).toMatch(
      /- Peak at 5\.412 ± 0\.004 keV\. 900 ± 60 counts that nothing explains\. .*Cr K-L3 \(Kα1\) \(\+3 eV\)/,
    );
  });

  it('is not said where nothing is', () => {
    expect(open(invented({ elements: [], peaks: [], explanations: [] }))).toBeNull();
  });

  it('asks for more counts where the evidence is short and nothing else stands for it', () => {
    const short = finding('N', 7, 50, { verdict: 'open', reason: 'Too little.' });
    const faint = finding('Al', 13, 40, { verdict: 'open', reason: 'Too little.' });
    expect(told(open(invented({ elements: [short], peaks: [] })))).toContain('Nitrogen. More counts would settle it.');
    expect(told(open(invented({ elements: [short, faint], peaks: [] })))).toContain(
      'Nitrogen and aluminium. More counts would settle it.',
    );
  });
});

describe('the materials', () => {
  it('group what the same elements allow, and say what is ruled out and why', () => {
    const text = told(materials(invented()));
    expect(text).toMatch(
      /Elements alone cannot tell it from tin oxide white\. To tell them apart: polarised light microscopy \(/,
    );
    expect(text).toMatch(/Naples yellow: Sb is not seen \(below 0\.2 %\)/);
    expect(told(materials(invented()), 'brief')).not.toMatch(/^ {2}Tin oxide white/m);
  });

  it('say so when none is allowed', () => {
    const none = invented({ pigments: [pigment('a', 'A', { standing: 'ruled-out' })] });
    expect(told(materials(none))).toContain('The elements fit none of the materials known to Limner.');
  });
});

it('claims are answered only where some were made', () => {
  expect(asked(invented())).toBeNull();
  const reason = 'It could hide here under tin, up to 1.2 % by mass.';
  const claims = [{ symbol: 'Sb', massFraction: null, answer: 'cannot-tell' as const, reason }];
  expect(told(asked(invented({ claims })))).toBe(`Claims and exclusions\n  - Sb: cannot tell. ${reason}\n`);
});

describe('limits', () => {
  it('are given, and what cannot be told is named', () => {
    const text = told(limits(invented()));
    expect(text).toContain('S < 0.24 %, Fe < 0.24 %');
    expect(text).toMatch(/This spectrum is blind to these elements.*\n {2}Hg/);
  });

  const under = (symbol: string, z: number, massFraction: number, more: Partial<ElementFinding> = {}) =>
    finding(symbol, z, 0, { verdict: 'not-seen', limit: { counts: 900, massFraction }, under: 'Pb', ...more });
  const hidden = (...elements: ElementFinding[]): string => couldHide({ elements }).most;

  it('tell in brief what could hide under what, largest first', () => {
    const elements = [under('S', 16, 0.031), under('As', 33, 0.12)];
    expect(told(limits(invented({ elements })), 'brief')).toBe(
      'Not seen\n  Could hide here, by mass: arsenic under lead, up to 12 %; sulfur under lead, up to 3.1 %.\n',
    );
    expect(told(limits(invented()), 'brief')).not.toContain('Not seen');
  });

  it('name as hidden only what matters for paint, in amounts that do: two in brief, four in full', () => {
    // No common material requires thallium; chlorine comes with every medium.
    expect(hidden(under('Tl', 81, 0.2), under('Cl', 17, 0.2), under('S', 16, 0.009))).toBe('');
    expect(hidden(under('S', 16, 0.2, { under: null }), under('Hg', 80, 0.2, { verdict: 'open' }))).toBe('');
    const many = [
      ['S', 16],
      ['As', 33],
      ['Hg', 80],
      ['Si', 14],
      ['Al', 13],
    ] as const;
    const { most, rest } = couldHide({ elements: many.map(([symbol, z], i) => under(symbol, z, 0.02 + 0.01 * i)) });
    expect(most).toMatch(/^Could hide here, by mass: aluminium [^;]*; silicon [^;]*\.$/);
    expect(rest).toMatch(/^Could also hide here: mercury [^;]*; arsenic [^;]*\.$/);
  });

  it('name first what has no limit at all', () => {
    expect(hidden(under('As', 33, 0.3), under('S', 16, 0, { verdict: 'blind', limit: null }))).toBe(
      'Could hide here, by mass: sulfur under lead, in any amount; arsenic under lead, up to 30\u00a0%.',
    );
  });
});

it('a stated year is a heading, with its anachronisms or none', () => {
  expect(told(statedYear(invented({ statedDate: { year: 1650, questions: [] } })))).toBe(
    'Stated year 1650\n  No anachronism was found.\n',
  );
});

describe('the ratios', () => {
  const tinToLead = (more: Partial<ElementRatio> = {}): ElementRatio => ({
    id: 'lead-tin-yellow-i-tin',
    numerator: ['Sn'],
    denominator: ['Pb'],
    value: { value: 0.523, sigma: 0.21 },
    counting: 0.01,
    limit: null,
    expected: { low: 0.5, high: 0.5 },
    exact: 0.5,
    agrees: 'within',
    materials: ['lead-tin-yellow-i'],
    alsoIn: [],
    tells: 'less tin: lead white beside it',
    source: ['A handbook; recalled'],
    trust: 'high',
    ...more,
  });

  it('tell value, expectation, agreement and source', () => {
    const text = told(ratios(invented({ ratios: [tinToLead()] })));
    expect(text).toMatch(/Sn\/Pb +0\.5 ± 0\.2 +0\.5 +lead-tin yellow, type I +agrees/);
    expect(text).toContain('Expected values from: A handbook; recalled.');
  });

  it('tell what it means where they disagree, and limits as such, after what was measured', () => {
    const above = tinToLead({
      value: { value: 1.523, sigma: 0.16 },
      agrees: 'above',
      expected: { low: 0.5, high: 0.8 },
    });
    const limit = tinToLead({ id: 'b', value: null, limit: { side: 'at-most', ratio: 0.0312 }, agrees: 'limit only' });
    const text = told(ratios(invented({ ratios: [limit, above] })));
    expect(text).toMatch(/1\.52 ± 0\.16 +0\.5 to 0\.8 .* above: less tin/);
    expect(text).toMatch(/at most 0\.031 +0\.5/);
    expect(text.indexOf('1.52')).toBeLessThan(text.indexOf('at most'));
  });

  it('are silent on materials that fit badly, and never long', () => {
    const pigments = [pigment('a', 'A', { score: 0.9 }), pigment('lead-tin-yellow-i', 'L', { score: 0.1 })];
    expect(ratios(invented({ pigments, ratios: [tinToLead()] }))).toBeNull();
    const many = Array.from({ length: 30 }, (_, i) => tinToLead({ id: `r${i}` }));
    expect(told(ratios(invented({ ratios: many }))).split('\n').length).toBeLessThan(14);
  });
});

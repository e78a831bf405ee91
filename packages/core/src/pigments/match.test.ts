import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import type { ElementFinding } from '../identify/finding.ts';
import { cautionsFor } from '../telling/words/cautions.ts';
import { namedExplanation, wordedStanding } from '../telling/words/standing-reason.ts';
import { LOOKALIKE_SETS, MATERIALS } from './knowledge.ts';
import { matchGrain as match, type MatchContext } from './match.ts';
import type { GrainExplanation, PigmentStanding } from './standing.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

/** As the record has it, with the words. */
function matchPigments(findings: readonly ElementFinding[], context?: MatchContext): PigmentStanding[] {
  return match(findings, context)
    .pigments.map(wordedStanding)
    .map((standing) => ({ ...standing, reason: plain(standing.reason) }));
}

const explanationsOf = (findings: readonly ElementFinding[]): GrainExplanation[] =>
  match(findings).explanations.map(namedExplanation);

const get = (standings: readonly PigmentStanding[], id: string) => standings.find((standing) => standing.id === id)!;
const best = (standings: readonly PigmentStanding[]) => standings[0].score;
/** It is of the best group: those whose amounts cannot be told apart. */
const isTop = (standings: readonly PigmentStanding[], id: string) => get(standings, id).group === 1;

// Compositions are the formulae of the materials (Artists' Pigments, vol. 1-4; IMA mineral list), in invented mixtures.
describe('a material alone', () => {
  const cases: [string, Record<string, number>][] = [
    ['lead-white', { '2PbCO3*Pb(OH)2': 0.85, C18H32O2: 0.15 }],
    ['vermilion', { HgS: 0.9, C18H32O2: 0.1 }],
    ['lead-tin-yellow-i', { Pb2SnO4: 0.9, C18H32O2: 0.1 }],
    ['smalt', { SiO2: 0.67, K2O: 0.13, CoO: 0.07, As2O3: 0.04, Fe2O3: 0.03, Al2O3: 0.02, CaO: 0.02, NiO: 0.02 }],
    ['bismuth-metal', { Bi: 0.8, C18H32O2: 0.2 }],
    ['azurite', { 'Cu3(CO3)2(OH)2': 0.9, C18H32O2: 0.1 }],
    ['ultramarine-synthetic', { 'Na6.9Al5.6Si6.4O24S4.2': 0.9, C18H32O2: 0.1 }],
    ['chalk', { CaCO3: 1 }],
    ['gypsum', { 'CaSO4*2H2O': 1 }],
    ['bone-black', { 'Ca5(PO4)3OH': 0.8, C: 0.2 }],
    ['emerald-green', { 'Cu(C2H3O2)2*3Cu(AsO2)2': 1 }],
    ['lead-antimonate-yellow', { Pb2Sb2O7: 1 }],
    ['cadmium-yellow', { CdS: 1 }],
    ['chrome-yellow', { PbCrO4: 1 }],
    ['lithopone', { BaSO4: 0.7, ZnS: 0.3 }],
  ];
  it.each(cases)('%s comes out on top', (id, parts) => {
    const standings = matchPigments(findingsOf(parts));
    expect(isTop(standings, id), `${get(standings, id).reason}; on top: ${standings[0].id}`).toBe(true);
  });
});

describe('what tells a material from its look-alikes', () => {
  it.each([
    ['vermilion', 'cinnabar', { HgS: 0.9, C18H32O2: 0.1 }],
    ['chalk', 'lime-white', { CaCO3: 1 }],
  ])('is said of as few as hold both: %s and %s', (id, other, parts) => {
    const sets = LOOKALIKE_SETS.filter(({ members }) => members.includes(id) && members.includes(other));
    const [few, ...more] = sets.sort((a, b) => a.members.length - b.members.length);
    expect(more.length).toBeGreaterThan(0);
    const { lookalikes, toldApartBy } = get(matchPigments(findingsOf(parts)), id);
    expect(lookalikes).toContain(other);
    expect(toldApartBy).toContain(few.toldApartBy);
  });
});

describe('every material against its own pure composition', () => {
  it.each(MATERIALS.map(({ id }) => id))('%s is allowed', (id) => {
    const { composition } = MATERIALS.find((material) => material.id === id)!;
    const parts = Object.fromEntries(composition.map(({ formula, massFraction }) => [formula, massFraction]));
    const own = get(matchPigments(findingsOf(parts)), id);
    expect(own.reason).toBeTruthy();
    expect(own.standing).toBe('allowed');
  });
});

describe('what rules a material out, and what does not', () => {
  it('a missing element that would show, with the numbers', () => {
    const standing = get(matchPigments(findingsOf({ '2PbCO3*Pb(OH)2': 0.9, C18H32O2: 0.1 })), 'lead-tin-yellow-i');
    expect(standing.standing).toBe('ruled-out');
    // Lead would allow 0.9 * 0.801 / 0.694 = 1.04 of Pb2SnO4, which cannot be more than all: 118.71 / 597.1 = 19.9 % Sn.
    expect(standing.reason).toMatch(
      /^Sn is not seen \(below 0\.30 %\), where its other elements would require 20 %: lead-tin yellow \(type I\) can be at most [\d.]+ % of the mass\.$/,
    );
  });

  it('not an element too faint to show', () => {
    const standing = get(
      matchPigments(
        findingsOf(
          { SiO2: 0.67, K2O: 0.15, CoO: 0.06, As2O3: 0.04, Fe2O3: 0.025, Al2O3: 0.015, CaO: 0.02 },
          { K: { verdict: 'not-seen', limit: 0.3 } },
        ),
      ),
      'smalt',
    );
    expect(standing.standing).toBe('allowed');
    expect(standing.reason).toMatch(/K is not seen \(below 30 %\), which does not rule it out/);
  });

  it('not an element the spectrum is blind to, or that is open, and it is said', () => {
    const parts = { PbSO4: 0.9, C18H32O2: 0.1 };
    const open = get(matchPigments(findingsOf(parts, { S: { verdict: 'open' } })), 'anglesite');
    const blind = get(matchPigments(findingsOf(parts, { S: { verdict: 'blind' } })), 'anglesite');
    expect([open, blind].map(({ standing }) => standing)).toEqual(['allowed', 'allowed']);
    expect(open.reason).toContain('S is open');
    expect(blind.reason).toContain('this spectrum is blind to S');
  });

  it('an open element without amount and without rival that would show', () => {
    const findings = findingsOf({ '2PbCO3*Pb(OH)2': 0.9, C18H32O2: 0.1 }, { S: { verdict: 'open' } }).map((f) =>
      f.symbol === 'S' ? { ...f, massFraction: null } : f,
    );
    const bounded = get(matchPigments(findings), 'anglesite');
    expect(bounded.standing).toBe('ruled-out');
    expect(bounded.reason).toMatch(/ S, but at most 0\.30 % is measured/);
    const rival = { kind: 'element' as const, name: 'Pb', deltaC: 1, settling: [] };
    const contested = findings.map((f) => (f.symbol === 'S' ? { ...f, rivals: [rival] } : f));
    expect(get(matchPigments(contested), 'anglesite').standing).toBe('allowed');
  });

  it('a trace of sulfur does not make lead white into lead sulfate', () => {
    const standings = matchPigments(
      findingsOf({ '2PbCO3*Pb(OH)2': 0.9, C18H32O2: 0.1 }, { S: { verdict: 'present', massFraction: 0.004 } }),
    );
    const sulfate = get(standings, 'anglesite');
    expect(sulfate.standing).toBe('ruled-out');
    expect(sulfate.reason).toMatch(/^S is only 0\.40 %, where .* can be at most [\d.]+ % of the mass/);
    expect(get(standings, 'lead-white').group).toBe(1);
  });

  it('an excess that a neighbour brings: vermilion in a gypsum ground', () => {
    const vermilion = get(matchPigments(findingsOf({ HgS: 0.05, 'CaSO4*2H2O': 0.95 })), 'vermilion');
    expect(vermilion.standing).toBe('allowed');
    expect(vermilion.reason).toContain('Hg:S by mass');
    expect(vermilion.beside).toContain('gypsum');
  });

  it('copper to arsenic tells emerald green from the copper arsenates', () => {
    const standings = (formula: string) => matchPigments(findingsOf({ [formula]: 0.9, C18H32O2: 0.1 }));
    expect(get(standings('Cu2AsO4OH'), 'olivenite').standing).toBe('allowed');
    expect(standings('Cu(C2H3O2)2*3Cu(AsO2)2')[0].id).toBe('emerald-green');
  });

  it('a counterargument of the knowledge is told', () => {
    const copper = get(matchPigments(findingsOf({ 'Cu3(CO3)2(OH)2': 0.6, 'Cu2Cl(OH)3': 0.4 })), 'azurite');
    expect(copper.standing).toBe('allowed');
    const chloride = findingsOf({ 'Cu3(CO3)2(OH)2': 0.3, 'Cu2Cl(OH)3': 0.7 });
    expect(get(matchPigments(chloride), 'azurite').reason).toContain(
      'chlorine at this level means a basic copper chloride',
    );
  });

  it('open titanium on barium sulfate leaves titanium white allowed, far below barium sulfate', () => {
    const standings = matchPigments(findingsOf({ BaSO4: 0.95 }, { Ti: { verdict: 'open', massFraction: 0.02 } }));
    expect(isTop(standings, 'barium-sulfate-natural')).toBe(true);
    const white = get(standings, 'titanium-white-rutile');
    expect(white.standing).toBe('allowed');
    expect(white.score).toBeLessThan(0.3 * best(standings));
    expect(white.reason).toContain('Ti is open');
  });

  it('carbon alone says next to nothing', () => {
    const standings = matchPigments(findingsOf({ C: 0.9, O: 0.1 }));
    expect(get(standings, 'lamp-black').standing).toBe('allowed');
    expect(best(standings)).toBeLessThan(0.1);
  });

  it('an element of the mounting asks for no material', () => {
    const standings = matchPigments(findingsOf({ Al: 1 }, { Al: { origin: 'setting' } }));
    expect(get(standings, 'aluminium-powder').score).toBeLessThan(0.1);
    expect(get(standings, 'aluminium-powder').reason).toContain('Al may come from the mounting');
    expect(explanationsOf(findingsOf({ Al: 1 }, { Al: { origin: 'setting' } }))[0].name).toBe(
      'Medium and mounting alone',
    );
  });
});

describe('among materials whose amounts cannot be told apart', () => {
  // How usual a material is in paint is our judgement; the table says so.
  it.each([
    ['chalk', { CaCO3: 0.8, C18H32O2: 0.2 }],
    ['lead-white', { '2PbCO3*Pb(OH)2': 0.8, C18H32O2: 0.2 }],
    ['quartz', { SiO2: 0.8, C18H32O2: 0.2 }],
  ])('%s stands first, as the usual one', (id, parts) => {
    const { pigments, explanations } = match(findingsOf(parts));
    expect(pigments[0].id).toBe(id);
    expect(explanations[0].parts[0].id).toBe(id);
  });
});

describe('the list as a whole', () => {
  const findings = findingsOf({ HgS: 0.5, '2PbCO3*Pb(OH)2': 0.3, C18H32O2: 0.2 });
  const standings = matchPigments(findings);

  it('holds every material once, allowed first, group by group, by falling score', () => {
    expect(standings.map(({ id }) => id).sort()).toEqual(MATERIALS.map(({ id }) => id).sort());
    const allowed = standings.filter(({ standing }) => standing === 'allowed');
    expect(standings.slice(0, allowed.length)).toEqual(allowed);
    expect(allowed.map(({ score }) => score)).toEqual(allowed.map(({ score }) => score).sort((a, b) => b - a));
    expect(allowed.map(({ group }) => group)).toEqual(allowed.map(({ group }) => group).sort((a, b) => a! - b!));
  });

  it('explains the whole grain', () => {
    const explanations = explanationsOf(findings);
    const [best] = explanations;
    expect(best.name).toBe('Vermilion with lead white');
    // Lead with sulfur differs from the carbonate by sulfur, of which vermilion leaves too little known: they share the weight.
    const shared = explanations.filter(({ name }) => /^Vermilion with (lead white|lead sulfate|galena)/.test(name));
    expect(shared.reduce((sum, { score }) => sum + score, 0)).toBeGreaterThan(0.9);
    expect(best.score).toBeGreaterThan(0.3);
    // The mixture above by mass; lead carbonate and its look-alikes differ in what they hold besides.
    expect(best.parts[0].massFraction.value).toBeGreaterThan(0.45);
    expect(best.parts[0].massFraction.value).toBeLessThan(0.55);
    expect(best.leftOver).toEqual([]);
  });

  it('takes other materials on request', () => {
    const own = MATERIALS.filter(({ id }) => id === 'vermilion' || id === 'chalk');
    expect(matchPigments(findings, { materials: own }).map(({ id }) => id)).toEqual(['vermilion', 'chalk']);
  });

  it('is the same whatever the order of the findings', () => {
    expect(matchPigments([...findings].reverse())).toEqual(standings);
  });

  it('names look-alikes that are themselves allowed, both ways', () => {
    expect(get(standings, 'vermilion').lookalikes).toEqual(expect.arrayContaining(['cinnabar', 'metacinnabar']));
    for (const { id, lookalikes } of standings)
      for (const other of lookalikes) {
        expect(get(standings, other).standing).toBe('allowed');
        expect(get(standings, other).lookalikes).toContain(id);
      }
  });

  it('gives one sentence of reason each, with scores in 0..1', () => {
    for (const { reason, score } of standings) {
      expect(reason).toMatch(/^[A-Z].*\.$/);
      expect(reason).not.toMatch(/NaN|undefined|Infinity/);
      expect(score).toBeGreaterThanOrEqual(0);
      expect(score).toBeLessThanOrEqual(1);
    }
  });

  it('weighs no set of materials twice', () => {
    const sets = match(findingsOf({ CaCO3: 0.6, SiO2: 0.2, Al2O3: 0.1 }, { Al: { verdict: 'open' } })).shares.map(
      ({ parts }) =>
        parts
          .map(({ id }) => id)
          .sort()
          .join(),
    );
    expect(sets.length).toBeGreaterThan(10);
    expect(new Set(sets).size).toBe(sets.length);
  });

  it('copes with no findings at all', () => {
    expect(best(matchPigments([]))).toBeLessThan(0.05);
  });
});

describe('cautions', () => {
  it('name the toxic elements found and always end with the standing ones', () => {
    const cautions = cautionsFor(findingsOf({ HgS: 0.5, Pb3O4: 0.5 }));
    expect(cautions.some((text) => text.startsWith('Lead'))).toBe(true);
    expect(cautions.some((text) => text.startsWith('Mercury'))).toBe(true);
    expect(cautions.some((text) => text.startsWith('Arsenic'))).toBe(false);
    expect(cautionsFor([])).toHaveLength(3);
  });

  it('leave out what is too little to count', () => {
    // Regulation (EC) No 1272/2008, Annex I, generic limits: 1 % for manganese dioxide (acute, category 4), 0.1 % for arsenic (from memory).
    const manganese = (part: number): boolean =>
      cautionsFor(findingsOf({ MnO2: part, CaCO3: 1 - part })).some((text) => text.startsWith('Manganese'));
    expect(manganese(0.008)).toBe(false);
    expect(manganese(0.05)).toBe(true);
    const arsenic = cautionsFor(findingsOf({ As2S3: 0.008, CaCO3: 0.992 }));
    expect(arsenic.some((text) => text.startsWith('Arsenic'))).toBe(true);
  });
});

import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import { matchGrain } from './match.ts';

// Amounts as a good spectrum would give them; what is mixed with what in paint is common practice, no source.
const best = (parts: Record<string, number>, said: Parameters<typeof findingsOf>[1] = {}) =>
  matchGrain(findingsOf({ ...parts, C18H32O2: 0.15 }, said)).explanations[0];
const ids = (parts: Record<string, number>): string[] => best(parts).parts.map(({ id }) => id);

const LEAD_WHITE = '2PbCO3*Pb(OH)2';

describe('an everyday mixture is not one rare compound', () => {
  it.each([0.3, 0.45, 0.6, 0.75, 0.9])('lead white (%f) with chalk is no calcium plumbate', (part) => {
    expect(ids({ [LEAD_WHITE]: part, CaCO3: 1 - part })).toEqual(['lead-white', 'chalk']);
  });

  it.each<[string[], Record<string, number>]>([
    [['cadmium-yellow', 'vermilion'], { CdS: 0.55, HgS: 0.45 }],
    [['vermilion', 'cadmium-yellow'], { CdS: 0.45, HgS: 0.55 }],
    [['cobalt-blue', 'zinc-white'], { CoAl2O4: 0.4, ZnO: 0.6 }],
    [['emerald-green', 'zinc-white'], { 'Cu(C2H3O2)2*3Cu(AsO2)2': 0.5, ZnO: 0.5 }],
  ])('%j', (expected, parts) => {
    expect(ids(parts)).toEqual(expected);
  });

  it('cobalt blue with a chromium green is no cobalt chromite', () => {
    const [first, second] = ids({ CoAl2O4: 0.6, 'Cr2O3*2H2O': 0.4 });
    expect(first).toBe('cobalt-blue');
    expect(['viridian', 'chromium-oxide-green']).toContain(second);
  });

  it('lead white with viridian: chromium that chrome yellow would not explain', () => {
    const { parts } = best({ 'Cr2O3*2H2O': 0.5, [LEAD_WHITE]: 0.5 });
    expect(['viridian', 'chromium-oxide-green']).toContain(parts[0].id);
    expect(parts[1].id).toBe('lead-white');
  });

  it('a cadmium red paint on dolomite is headed by what gives the colour', () => {
    expect(ids({ 'CdS0.6Se0.4': 0.3, 'CaMg(CO3)2': 0.7 })[0]).toBe('cadmium-red');
  });
});

// Compositions of everyday materials: common practice, from memory; the glass holds chlorine, as old soda does.
describe('what is no paint heads as what it is', () => {
  it.each<[string, Record<string, number>]>([
    ['steel-wear', { Fe: 0.97, Mn: 0.02, Cr: 0.004 }],
    ['stainless-steel', { Fe: 0.71, Cr: 0.18, Ni: 0.09, Mn: 0.014 }],
    ['solder', { Sn: 0.6, Pb: 0.4 }],
    ['soda-lime-glass', { SiO2: 0.66, Na2O: 0.13, CaO: 0.1, MgO: 0.03, K2O: 0.03, Al2O3: 0.02, NaCl: 0.02 }],
    ['pumice', { SiO2: 0.74, Al2O3: 0.135, K2O: 0.04, Na2O: 0.03, Fe2O3: 0.02, CaO: 0.013, MgO: 0.004 }],
  ])('%s', (id, parts) => {
    expect(matchGrain(findingsOf(parts)).explanations[0].parts.map((part) => part.id)).toEqual([id]);
  });

  it('smalt with or without quartz: what its elements hide is told as possible', () => {
    const smalt = { SiO2: 0.67, K2O: 0.15, CoO: 0.06, As2O3: 0.04, Fe2O3: 0.025, Al2O3: 0.015, CaO: 0.02 };
    const [told] = matchGrain(findingsOf({ ...smalt, SiO2: 1.5 })).explanations;
    expect(told.parts[0].id).toBe('smalt');
    expect([...told.parts, ...told.perhaps].map(({ id }) => id)).toContain('quartz');
  });
});

describe('what oxygen says', () => {
  it('visible, it asks for a compound: quartz is no silicon wafer, glass neither', () => {
    expect(matchGrain(findingsOf({ SiO2: 1 })).explanations[0].parts.map(({ id }) => id)).toEqual(['quartz']);
  });

  it('proved absent, it leaves the metal', () => {
    expect(matchGrain(findingsOf({ Cu: 1 })).explanations[0].parts.map(({ id }) => id)).toEqual(['copper-metal']);
  });

  it('not recorded, the usual material stands first', () => {
    const blind = { O: { verdict: 'blind' as const }, C: { verdict: 'blind' as const } };
    const glass = { SiO2: 0.56, K2O: 0.16, CaO: 0.18, MgO: 0.035, P2O5: 0.02, Al2O3: 0.02, MnO: 0.01, Na2O: 0.015 };
    expect(matchGrain(findingsOf(glass, blind)).explanations[0].parts[0].id).toBe('potash-glass');
  });
});

// Prussian blue holds six cyanides for each iron inside: nitrogen and iron about three to four by mass (its formula).
describe('what nitrogen says', () => {
  const PRUSSIAN_BLUE = { 'Fe4(Fe(CN)6)3*14H2O': 0.8 };

  it('visible beside iron, it asks for Prussian blue before an iron oxide', () => {
    const { parts, score } = best(PRUSSIAN_BLUE);
    expect(parts.map(({ id }) => id)).toEqual(['prussian-blue']);
    expect(score).toBeGreaterThan(0.7);
  });

  it('absent, it leaves the oxides', () => {
    const { parts } = best({ Fe2O3: 0.8 });
    expect(parts.map(({ id, others }) => [id, ...others.map((other) => other.id)]).flat()).not.toContain(
      'prussian-blue',
    );
  });

  it('that could hide and is not seen asks for nothing', () => {
    const hidden = { N: { verdict: 'not-seen' as const, limit: 0.2 } };
    expect(best({ Fe2O3: 0.8 }, hidden).parts[0].id).not.toBe('prussian-blue');
  });
});

describe('company', () => {
  const OCHRE = { FeOOH: 0.35, SiO2: 0.25, Al2Si2O7H4: 0.15 };

  it('an ochre with manganese dioxide is an umber, not an ochre with manganese black', () => {
    const { parts } = best({ ...OCHRE, MnO2: 0.1 });
    expect(parts.map(({ id }) => id)).not.toContain('manganese-black');
    expect(parts[0].id).toMatch(/umber$/);
  });

  it('Prussian blue is no iron oxide: clay beside it makes no earth of it', () => {
    const { parts } = best({ 'Fe4(Fe(CN)6)3*14H2O': 0.4, Al2Si2O7H4: 0.4 });
    expect(parts.map(({ id }) => id)).toEqual(['prussian-blue', 'kaolin']);
  });
});

describe('time', () => {
  it('speaks against azurite beside titanium white, and for phthalocyanine blue', () => {
    const { parts } = best({ 'Cu3(CO3)2(OH)2': 0.1, TiO2: 0.75 });
    expect(parts.find(({ id }) => id === 'titanium-white-rutile' || id === 'titanium-white-anatase')).toBeDefined();
    expect(parts[0].id).not.toBe('azurite');
  });
});

import { describe, expect, it } from 'vitest';
import { mixture } from '../atomic/composition.ts';
import { MAX_Z, symbolOf } from '../atomic/elements.ts';
import type { ElementFinding, Verdict } from '../identify/finding.ts';
import { cautionsFor } from './cautions.ts';
import { MATERIALS } from './knowledge.ts';
import { matchPigments } from './match.ts';
import type { PigmentStanding } from './standing.ts';

const LIMIT = 0.003;

interface Said {
  readonly verdict?: Verdict;
  readonly massFraction?: number;
  readonly limit?: number;
  readonly origin?: ElementFinding['origin'];
}

/** Findings as a good spectrum of the mixture would give them, with what the test says otherwise put in. */
function findingsOf(parts: Record<string, number>, said: Record<string, Said> = {}): ElementFinding[] {
  const fractions = mixture(Object.entries(parts).map(([formula, massFraction]) => ({ formula, massFraction })));
  return Array.from({ length: MAX_Z - 4 }, (_, index) => finding(index + 5, fractions[index + 5], said));
}

function finding(z: number, fraction: number, said: Record<string, Said>): ElementFinding {
  const symbol = symbolOf(z);
  const { verdict = fraction > LIMIT ? 'present' : 'not-seen', limit = LIMIT, origin = 'specimen' } = said[symbol] ?? {};
  const value = said[symbol]?.massFraction ?? fraction;
  const seen = verdict === 'present' || verdict === 'open';
  return {
    symbol,
    z,
    verdict,
    probability: { present: 1, open: 0.5, 'not-seen': 0.01, blind: 0.1 }[verdict],
    counts: { value: seen ? value * 1e6 : 0, sigma: 300 },
    massFraction: seen ? { value, sigma: value * 0.15 } : null,
    limit: verdict === 'blind' ? null : { counts: 900, massFraction: limit },
    origin,
    evidence: { deltaC: seen ? 1000 : 0, margin: seen ? 500 : 0 },
    lines: [],
    rivals: [],
    reason: '',
  };
}

const get = (standings: readonly PigmentStanding[], id: string) => standings.find((standing) => standing.id === id)!;
const best = (standings: readonly PigmentStanding[]) => standings[0].score;
/** Nothing scores more than 2 % better: look-alikes of other ratios within the doubt may differ by less. */
const isTop = (standings: readonly PigmentStanding[], id: string) =>
  get(standings, id).standing === 'allowed' && get(standings, id).score >= 0.98 * best(standings);

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
    ['titanium-barium-white', { TiO2: 0.25, BaSO4: 0.75 }],
    ['cadmium-yellow', { CdS: 1 }],
    ['chrome-yellow', { PbCrO4: 1 }],
    ['lithopone', { BaSO4: 0.7, ZnS: 0.3 }],
  ];
  it.each(cases)('%s comes out on top', (id, parts) => {
    const standings = matchPigments(findingsOf(parts));
    expect(isTop(standings, id), `${get(standings, id).reason}; on top: ${standings[0].id}`).toBe(true);
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

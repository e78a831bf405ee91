// Pairs of materials that a specialist tests for, on spectra simulated with bent physics (tests/statistics/pigment-grains.ts). That
// elements cannot tell azurite from malachite, basic from neutral lead carbonate or orpiment from realgar beyond their As:S ratio
// follows from their formulae (IMA list of minerals). The other expectations are common practice, no source.
import { describe, expect, it } from 'vitest';
import type { Match } from '../../packages/core/src/pigments/match.ts';
import { matchOf, type Paint } from '../statistics/pigment-grains.ts';

/** `npm run statistics` takes both. */
const BEAMS_KEV = process.env['LIMNER_WHOLE'] === undefined ? [20] : [15, 20];
const read = (parts: Paint['parts'], beamKev: number, seed = 61_000): Match =>
  matchOf({ parts, beamKev, seed: seed + beamKev });
const standing = ({ pigments }: Match, id: string) => pigments.find((pigment) => pigment.id === id)!;
const isAllowed = (match: Match, id: string): boolean => standing(match, id).standing === 'allowed';
const groupOf = (match: Match, id: string): number | null => standing(match, id).group;

describe.each(BEAMS_KEV)('at %d keV', (beamKev) => {
  it('metallic bismuth is neither bismuth sulfide nor lead, and the other way round', () => {
    const metal = read([['bismuth-metal', 1]], beamKev);
    expect(groupOf(metal, 'bismuth-metal')).toBe(1);
    expect(isAllowed(metal, 'bismuth-sulfide'), standing(metal, 'bismuth-sulfide').reason.kind).toBe(false);
    expect(isAllowed(metal, 'lead-white')).toBe(false);
    const sulfide = read([['bismuth-sulfide', 1]], beamKev);
    expect(groupOf(sulfide, 'bismuth-sulfide')).toBe(1);
    expect(groupOf(sulfide, 'bismuth-metal')).not.toBe(1);
    const lead = read([['lead-white', 1]], beamKev);
    expect(isAllowed(lead, 'bismuth-metal')).toBe(false);
  });

  it('lead-tin yellow: both types stay allowed for type II; without silicon type II does not come first', () => {
    const second = read([['lead-tin-yellow-ii', 1]], beamKev);
    expect(isAllowed(second, 'lead-tin-yellow-ii')).toBe(true);
    const first = read([['lead-tin-yellow-i', 1]], beamKev);
    expect(groupOf(first, 'lead-tin-yellow-i')).toBe(1);
    expect(first.pigments[0].id).toBe('lead-tin-yellow-i');
    // Tin oxide needs lead of another part for these amounts: it is another explanation, no look-alike.
    expect(first.pigments[0].lookalikes).not.toContain('tin-white');
  });

  it.each(['azurite', 'malachite'])('%s: azurite and malachite are one group, and Raman tells them apart', (id) => {
    const copper = read([[id, 1]], beamKev);
    expect(groupOf(copper, 'azurite')).toBe(1);
    expect(groupOf(copper, 'malachite')).toBe(1);
    expect(standing(copper, 'azurite').score).toBe(standing(copper, 'malachite').score);
    expect(standing(copper, 'azurite').toldApartBy.join(' ')).toContain('Raman');
  });

  it('smalt is not cobalt blue, and cobalt blue not smalt', () => {
    const smalt = read([['smalt', 1]], beamKev);
    expect(groupOf(smalt, 'smalt')).toBe(1);
    expect(isAllowed(smalt, 'cobalt-blue')).toBe(false);
    const blue = read([['cobalt-blue', 1]], beamKev);
    expect(groupOf(blue, 'cobalt-blue')).toBe(1);
    expect(isAllowed(blue, 'smalt')).toBe(false);
  });

  it('vermilion and lead white are both found beside each other', () => {
    for (const share of [0.25, 0.5, 0.75]) {
      const both = read(
        [
          ['vermilion', share],
          ['lead-white', 1 - share],
        ],
        beamKev,
      );
      expect([isAllowed(both, 'vermilion'), isAllowed(both, 'lead-white')]).toEqual([true, true]);
      expect(standing(both, 'vermilion').score).toBeGreaterThan(0.5);
    }
    expect(isAllowed(read([['lead-white', 1]], beamKev, 62_000), 'lithopone')).toBe(false);
  });

  it('lithopone, and barium sulfate with zinc white, each stay allowed for the other; barium sulfate alone is neither', () => {
    const lithopone = read([['lithopone', 1]], beamKev);
    expect(groupOf(lithopone, 'lithopone')).toBe(1);
    const mixed = read(
      [
        ['barium-sulfate-natural', 0.7],
        ['zinc-white', 0.3],
      ],
      beamKev,
    );
    for (const id of ['barium-sulfate-natural', 'zinc-white', 'lithopone']) expect(isAllowed(mixed, id), id).toBe(true);
    const alone = read([['barium-sulfate-natural', 1]], beamKev);
    expect([isAllowed(alone, 'lithopone'), isAllowed(alone, 'zinc-white')]).toEqual([false, false]);
  });

  it('titanium white is found beside barium sulfate, and not made of its lines', () => {
    const both = read(
      [
        ['titanium-white-rutile', 0.25],
        ['barium-sulfate-natural', 0.75],
      ],
      beamKev,
    );
    expect(isAllowed(both, 'titanium-white-rutile')).toBe(true);
    expect(isAllowed(both, 'barium-sulfate-natural')).toBe(true);
    const alone = read([['barium-sulfate-natural', 1]], beamKev, 63_000);
    expect(standing(alone, 'titanium-white-rutile').score).toBeLessThan(0.1);
  });

  it('orpiment and realgar are one group, and arsenic oxide is far behind', () => {
    for (const id of ['orpiment', 'realgar']) {
      const sulfide = read([[id, 1]], beamKev);
      expect([groupOf(sulfide, 'orpiment'), groupOf(sulfide, 'realgar')]).toEqual([1, 1]);
      expect(standing(sulfide, 'arsenolite').score).toBeLessThan(0.1);
    }
  });

  it('ultramarine is no clay earth, and a clay earth no ultramarine', () => {
    const blue = read([['ultramarine-synthetic', 1]], beamKev);
    expect(groupOf(blue, 'ultramarine-synthetic')).toBe(1);
    expect(isAllowed(blue, 'yellow-ochre')).toBe(false);
    for (const id of ['kaolin', 'yellow-ochre', 'red-ochre']) {
      const earth = read([[id, 1]], beamKev);
      expect(isAllowed(earth, 'ultramarine-synthetic'), standing(earth, 'ultramarine-synthetic').reason.kind).toBe(
        false,
      );
    }
  });
});

import { describe, expect, it } from 'vitest';
import { MAX_Z } from './elements.ts';
import { costerKronig, edgeEv, fluorescenceYield, levelWidthEv, SUBSHELLS } from './shells.ts';

const places = Array.from({ length: MAX_Z }, (_, i) => i + 1).flatMap((z) =>
  SUBSHELLS.map((name, s) => ({ z, s, name })),
);

describe('subshells', () => {
  // The valence levels of the printed table are left out: it has L2 and L3 of Na, M2 and M3 of Co the wrong way round.
  it('edges fall from K to M5 inside an element, valence levels apart', () => {
    for (let z = 1; z <= MAX_Z; z++) {
      const last = z < 12 ? 1 : z < 31 ? 4 : 9;
      const edges = SUBSHELLS.slice(0, last).map((_, s) => edgeEv(z, s));
      const known = edges.filter((ev) => !Number.isNaN(ev));
      expect(known, `z ${z}`).toEqual([...known].sort((a, b) => b - a));
    }
  });

  it('edges rise with Z for every subshell from where lines are listed on', () => {
    for (const [s, name] of SUBSHELLS.entries()) {
      const from = name === 'K' ? 1 : name.startsWith('L') ? 11 : 36;
      for (let z = from; z < MAX_Z; z++) expect(edgeEv(z + 1, s), `${name} z ${z}`).toBeGreaterThan(edgeEv(z, s));
    }
  });

  it('says NaN where there is no subshell', () => {
    expect([edgeEv(1, 1), edgeEv(0, 0), edgeEv(200, 0), edgeEv(13, 8)]).toEqual([NaN, NaN, NaN, NaN]);
  });

  it('yields are probabilities', () => {
    for (const { z, s } of places) {
      expect(fluorescenceYield(z, s)).toBeGreaterThanOrEqual(0);
      expect(fluorescenceYield(z, s)).toBeLessThan(1);
    }
  });

  it('no vacancy decays more than once: yield and Coster-Kronig sum to 1 at most', () => {
    for (const { z, s, name } of places) {
      const handedOn = SUBSHELLS.reduce((sum, _, to) => sum + costerKronig(z, s, to), 0);
      expect(handedOn + fluorescenceYield(z, s), `${name} z ${z}`).toBeLessThanOrEqual(1.0001);
    }
  });

  it('vacancies move outwards inside a shell only', () => {
    for (const { z, s } of places) {
      SUBSHELLS.forEach((name, to) => {
        if (costerKronig(z, s, to) > 0) expect([to > s, name[0]]).toEqual([true, SUBSHELLS[s][0]]);
      });
    }
  });

  it('widths are those of natural levels, 0 to 120 eV', () => {
    for (const { z, s } of places) expect(Math.abs(levelWidthEv(z, s) - 60)).toBeLessThanOrEqual(60);
    expect(levelWidthEv(92, 0)).toBeGreaterThan(80); // U K, Krause and Oliver 1979: 96 eV (from memory)
  });
});

// Overlaps of the pigment knowledge: their lines exist and lie close, and what settles them can be excited.
import { describe, expect, it } from 'vitest';
import { clash } from '@limner/core';
import { zOf } from '../packages/core/src/atomic/elements.ts';
import { linesOf } from '../packages/core/src/atomic/lines.ts';
import { edgeEv, SUBSHELLS } from '../packages/core/src/atomic/shells.ts';
import { KNOWLEDGE_SOURCES, KNOWN_CLASHES } from '../packages/core/src/pigments/knowledge.ts';

const KEYS = new Set(KNOWLEDGE_SOURCES.map(({ key }) => key));

describe('clashes', () => {
  const energyOf = (symbol: string, iupac: string) =>
    linesOf(zOf(symbol)!).find((line) => line.iupac === iupac || line.iupac.startsWith(`${iupac},`))?.energyEv;

  it('are at least 60', () => {
    expect(KNOWN_CLASHES.length).toBeGreaterThanOrEqual(60);
  });

  it.each([20, 30])('are found by clash at %i keV, or their lines lie a peak apart, or one is too weak', (beamKev) => {
    // FWHM of a detector with 130 eV at 5.9 keV, eV; lines below 1 % of their family are left out of clash.
    const fwhm = (ev: number) => Math.sqrt(130 ** 2 + 5.545 * 0.42 * (ev - 5898.8));
    const unexplained = KNOWN_CLASHES.filter(({ elementB }) => elementB !== 'artefact').flatMap((known) => {
      const { elementA, lineA, elementB, lineB } = known;
      if (elementA === elementB) return [];
      const [a, b] = [energyOf(elementA, lineA)!, energyOf(elementB, lineB)!];
      const { pairs } = clash(elementA, elementB, { beamKev });
      const near = (line: { readonly energyEv: number }, ev: number) => Math.abs(line.energyEv - ev) < 20;
      const isFound = pairs.some((pair) => near(pair.a, a) && near(pair.b, b));
      const isApart = Math.abs(a - b) > 0.98 * fwhm((a + b) / 2);
      return isFound || isApart ? [] : [`${elementA} ${lineA} / ${elementB} ${lineB}`];
    });
    // L2-M1 of lead and mercury, and the K-M3 of magnesium, are below 1 % of their families.
    expect(unexplained.filter((told) => !/ (Pb|Hg) L2-M1$|^Mg K-M3 /.test(told))).toEqual([]);
  });

  it.each(KNOWN_CLASHES.map((c) => [`${c.elementA} ${c.lineA} / ${c.elementB} ${c.lineB}`, c] as const))(
    '%s exists, lies close and states what settles it',
    (_, { elementA, lineA, elementB, lineB, settledBy, paintContext, beamKev, source }) => {
      const a = energyOf(elementA, lineA);
      expect(a).toBeDefined();
      if (elementB !== 'artefact') {
        const b = energyOf(elementB, lineB);
        expect(b).toBeDefined();
        // Lines further apart than about two FWHM of a usual detector (130 eV at 5.9 keV) are no coincidence.
        expect(Math.abs(a! - b!)).toBeLessThan(2.1 * 0.15 * 1000);
      } else expect(lineB).toMatch(/^(escape of|sum of) [A-Z]/);
      expect(settledBy).not.toBe('');
      expect(paintContext).not.toBe('');
      expect(source.length).toBeGreaterThan(0);
      for (const key of source) expect(KEYS).toContain(key);
      const named = `${elementA} K ${elementB} K ${settledBy} ${lineB}`.match(/\b[A-Z][a-z]?(?= [KLM])/g)!;
      // The beam energy is the absorption edge of a line of one of the elements named.
      const edges = named
        .filter((symbol) => zOf(symbol) !== undefined)
        .flatMap((symbol) => SUBSHELLS.map((__, s) => edgeEv(zOf(symbol)!, s) / 1000));
      expect(beamKev).not.toBeNull();
      expect(
        Math.min(...edges.filter(Number.isFinite).map((edge) => Math.abs(edge - beamKev!) / beamKev!)),
      ).toBeLessThan(0.01);
    },
  );
});

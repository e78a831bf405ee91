import { describe, expect, it } from 'vitest';
import { MAX_Z, zOf } from '../atomic/elements.ts';
import { lineAt, LINE_TABLE } from '../atomic/lines.ts';
import { familySigma, groupsOf } from './groups.ts';

describe('line groups', () => {
  it('hold every line of every element exactly once, with the lines of one family', () => {
    for (let z = 1; z <= MAX_Z; z++) {
      const groups = groupsOf(z);
      const lines = groups.flatMap((group) => group.lines);
      const all = Array.from(
        { length: LINE_TABLE.first[z + 1] - LINE_TABLE.first[z] },
        (_, i) => LINE_TABLE.first[z] + i,
      );
      expect([...lines].sort((a, b) => a - b)).toEqual(all);
      for (const { family, lines: members, centre, sigma } of groups) {
        for (const i of members) expect(lineAt(i).iupac[0]).toBe(family);
        expect(centre).toBeGreaterThan(0.4);
        expect(centre).toBeLessThan(2);
        expect(sigma).toBeGreaterThanOrEqual(0);
      }
    }
    expect(LINE_TABLE.count).toBe(LINE_TABLE.first[MAX_Z + 1]);
  });

  // Siegbahn names of IUPAC lines: Jenkins et al., X-Ray Spectrom. 20 (1991) 149, table of IUPAC and Siegbahn notation.
  it.each([
    ['Pb', 'Lα', ['L3-M4', 'L3-M5']],
    ['Pb', 'Lβ1', ['L2-M4']],
    ['Pb', 'Ll', ['L3-M1']],
    ['Pb', 'Mα', ['M5-N6', 'M5-N7']],
    ['Pb', 'Mβ', ['M4-N6']],
    ['Fe', 'Kα', ['K-L2', 'K-L3']],
  ])('%s %s: %j', (symbol, name, iupac) => {
    const group = groupsOf(zOf(symbol)!).find((other) => other.name === name)!;
    const found = group.lines.map((i) => lineAt(i).iupac);
    expect(found).toEqual(expect.arrayContaining(iupac));
  });

  it('trust M yields less than L yields, and least where they are soft', () => {
    expect(familySigma('M', 82)).toBeGreaterThan(familySigma('L', 82));
    expect(familySigma('M', 40)).toBeGreaterThan(familySigma('M', 82));
  });
});

import { describe, expect, it } from 'vitest';
import { benchAnswer, benchCurves, benchNeeds } from './bench.ts';
import { benchStateFrom, benchStateText, FIRST_STATE } from './bench-state.ts';
import { benchWords } from './bench-words.ts';
import { compositionOf } from './specimen.ts';
import { zOf } from '../atomic/elements.ts';

describe('a state in an address', () => {
  it('comes back as it went in', () => {
    const states = [
      FIRST_STATE,
      { ...FIRST_STATE, grainUm: 2.5, noise: false, out: null, parts: [{ of: 'vermilion', share: 1 }] },
      {
        ...FIRST_STATE,
        parts: [
          { of: 'CaSO4.2H2O', share: 3 },
          { of: '2PbCO3*Pb(OH)2', share: 0.5 },
        ],
      },
    ];
    for (const state of states) expect(benchStateFrom(benchStateText(state))).toEqual(state);
  });

  it.each([
    ['beam=2', /beam=2: give a number from 3 to 30/],
    ['beam=', /beam=: give a number/],
    ['res=118', /res=118: give a number from 121 to 180/],
    ['parts=PbS', /'PbS' is not a part; write it like PbCO3:90/],
    ['parts=a:1,b:1,c:1,d:1,e:1', /takes 1 to 4 parts, not 5/],
    ['colour=blue', /no setting 'colour'/],
    ['parts=%E0%A4%A:1', /cannot be read as a part/],
  ])('refuses %s in one sentence', (text, message) => {
    expect(() => benchStateFrom(text)).toThrow(message);
  });

  it('names a part that is neither formula nor material', () => {
    expect(() => benchCurves({ ...FIRST_STATE, parts: [{ of: 'moonstone', share: 1 }] })).toThrow(
      /'moonstone' is neither a formula nor the id of a material/,
    );
  });
});

describe('the bench', () => {
  const answer = benchAnswer(FIRST_STATE);

  it('mixes by mass', () => {
    const { parts } = FIRST_STATE;
    // PbCO3: 207.2 / 267.2 of lead (IUPAC weights), nine parts of ten.
    expect(compositionOf(parts)[zOf('Pb')!]).toBeCloseTo((0.9 * 207.2) / 267.21, 3);
  });

  it('draws the same counts from the same seed, others from another, and the expected ones without noise', () => {
    const { counts } = benchCurves(FIRST_STATE);
    expect([...benchCurves({ ...FIRST_STATE }).counts]).toEqual([...counts]);
    expect([...benchCurves({ ...FIRST_STATE, seed: 2 }).counts]).not.toEqual([...counts]);
    const quiet = benchCurves({ ...FIRST_STATE, noise: false }).counts;
    expect(quiet.reduce((a, b) => a + b, 0)).toBeCloseTo(FIRST_STATE.counts, -1);
  });

  it('explains the counts with the parts: their lines and what lies under them are the model', () => {
    const { layers, withIt } = answer;
    expect(layers.map(({ name }) => name)).toEqual(['PbCO3', 'CaSO4']);
    withIt.forEach((value, i) =>
      expect(layers[0].counts[i] + layers[1].counts[i]).toBeLessThanOrEqual(Math.max(0, value) + 1e-5),
    );
    const all = layers.map(({ counts }) => counts.reduce((a, b) => a + b, 0));
    // Lead carbonate, nine parts of ten, has most of the counts in lines, and both have some.
    expect(all[0]).toBeGreaterThan(all[1]);
    expect(all[1]).toBeGreaterThan(1000);
  });

  it('finds in drawn spectra, on average, what it finds in the same spectrum without noise', () => {
    const quiet = benchAnswer({ ...FIRST_STATE, noise: false }).found;
    const drawn = Array.from({ length: 12 }, (_, seed) => benchAnswer({ ...FIRST_STATE, seed: seed + 1 }).found ** 2);
    const mean = drawn.reduce((a, b) => a + b, 0) / drawn.length;
    // Chi-square scatters by 2 sigma from draw to draw; one free amount more adds 1.
    expect(Math.abs(mean - 1 - quiet ** 2)).toBeLessThan((3 * 2 * quiet) / Math.sqrt(drawn.length));
  });

  it('expects about that: the simulator is another calculation than the model that explains its spectra', () => {
    for (const state of [
      FIRST_STATE,
      {
        ...FIRST_STATE,
        beamKev: 20,
        parts: [
          { of: 'BaSO4', share: 95 },
          { of: 'TiO2', share: 5 },
        ],
        out: 'Ti',
      },
    ]) {
      const { found, sigma } = benchAnswer({ ...state, noise: false });
      // 3.81 against 3.00 (the simulator's lead has more of a low-energy tail), 5.30 against 5.74 standard deviations when this was written.
      expect(found / sigma).toBeGreaterThan(0.7);
      expect(found / sigma).toBeLessThan(1.4);
    }
  });

  it('has a residual of about one where the wrong explanation does no harm', () => {
    const far = answer.residual.filter((_, i) => answer.energyEv[i] > 5000 && answer.energyEv[i] < 9000);
    const rms = Math.sqrt(far.reduce((sum, value) => sum + value ** 2, 0) / far.length);
    expect(rms).toBeGreaterThan(0.8);
    expect(rms).toBeLessThan(1.2);
  });

  it('says what it found, and what it is tied to', () => {
    const { lead, more } = benchWords(answer, FIRST_STATE, benchNeeds(FIRST_STATE, answer));
    expect(lead).toMatch(/^Without sulfur, the fit to this spectrum is worse by/);
    expect(more.at(-1)).toMatch(/tied to that of lead: correlation -0\.\d\d/);
  });

  it('tells the figure as tables: counts of the parts in the order of the layers, and the lines that tell', () => {
    const { brief, parts, lines: none } = benchWords(answer, FIRST_STATE, null);
    expect([answer.lines, none]).toEqual([[], null]);
    const lead = benchAnswer({ ...FIRST_STATE, out: 'Pb' });
    const { lines } = benchWords(lead, FIRST_STATE, null);
    expect(brief).toMatch(/^\d[\d.]*\u00a0sigma expected$/);
    expect(parts?.rows.map(({ cells }) => cells[0].text)).toEqual(answer.layers.map(({ name }) => name));
    for (const { cells } of parts?.rows ?? []) expect(cells[2].text).toMatch(/^\d[\d.]*\u00a0%$/);
    expect(lines?.rows).toHaveLength(lead.lines.length);
    expect(lines?.rows[0].cells.map(({ text }) => text)).toEqual([
      expect.stringMatching(/^Pb\u00a0M/),
      expect.stringMatching(/^\d+\.\d{3}\u00a0keV$/),
      ...Array<unknown>(3).fill(expect.stringMatching(/^[\d\u00a0.-]+$/)),
    ]);
  });

  it('refuses to take out what is not there', () => {
    expect(() => benchAnswer({ ...FIRST_STATE, out: 'Au' })).toThrow(/no Au in this mixture/);
  });
});

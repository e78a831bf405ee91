import { describe, expect, it } from 'vitest';
import { countsFor, FEWEST_COUNTS, MOST_COUNTS } from './counts-for.ts';
import { answered, overlapOf, usualMeasurement } from './overlap.ts';
import { massFractionsOf, mixture } from '../atomic/composition.ts';
import { separation } from './separation.ts';

const ask = (elements: string[], kind: 'beside' | 'instead', symbol: string, options = {}) =>
  overlapOf(elements, options).questions.find((one) => one.ask === kind && one.symbol === symbol)!;

describe('three questions of an overlap', () => {
  it('are asked of each element, beside the others and instead of them', () => {
    const { questions, neighbours, counts } = overlapOf(['S', 'Pb', 'Mo'], { beamKev: 15 });
    expect(questions.map(({ ask, symbol }) => `${symbol} ${ask}`)).toEqual([
      'S beside',
      'Pb beside',
      'Mo beside',
      'S instead',
      'Pb instead',
      'Mo instead',
    ]);
    expect(questions[1].others).toEqual(['S', 'Mo']);
    expect(neighbours).toEqual(['C', 'O']);
    expect(counts).toBe(250_000);
    expect(overlapOf(['O', 'V'], { beamKev: 10 }).neighbours).toEqual(['C']);
  });

  it('have three different answers: a little sodium beside zinc is not what zinc alone is beside sodium alone', () => {
    const options = { beamKev: 8, amounts: new Map([['Zn', 50]]), counts: 20_000 };
    const sodium = ask(['Na', 'Zn'], 'beside', 'Na', options);
    const zinc = ask(['Na', 'Zn'], 'beside', 'Zn', options);
    const which = ask(['Na', 'Zn'], 'instead', 'Zn', options);
    expect(sodium.sigma).toBeLessThan(3);
    expect(zinc.sigma).toBeGreaterThan(3);
    expect(which.sigma).toBeGreaterThan(3);
    expect(sodium.mostSigma).toBeGreaterThan(sodium.sigma);
  });

  it('follow the beam: beside magnesium arsenic is told better where its K line is excited', () => {
    // As K edge 11.867 keV: X-Ray Data Booklet, Table 1-1.
    const amounts = new Map([['Mg', 2]]);
    const below = ask(['As', 'Mg'], 'beside', 'As', { beamKev: 10, amounts });
    const above = ask(['As', 'Mg'], 'beside', 'As', { beamKev: 20, amounts });
    expect(below.lines.every(({ energyEv }) => energyEv < 2000)).toBe(true);
    expect(above.sigma).toBeGreaterThan(below.sigma);
  });

  it('say that nothing can be told of an element without an excited line', () => {
    const { sigma, recorded, countsNeeded } = ask(['Sc', 'Rb'], 'beside', 'Rb', { beamKev: 1.5 });
    expect({ sigma, recorded, countsNeeded }).toEqual({ sigma: 0, recorded: false, countsNeeded: null });
  });

  it.each([
    [
      () => overlapOf(['S', 'Pb'], { fwhmMnEv: 10 }),
      /resolution is 10 eV; a silicon detector without any noise has 118\.8/,
    ],
    [() => overlapOf(['S', 'Pb'], { fwhmMnEv: 118 }), /resolution is 118 eV/],
  ])('refuse a resolution that no detector has', (run, message) => {
    expect(run).toThrow(message);
  });
});

describe('the counts that tell', () => {
  const both = mixture([
    { formula: 'CaCO3', massFraction: 0.9 },
    { formula: 'Sb2O3', massFraction: 0.1 },
  ]);
  const chalk = massFractionsOf('CaCO3');
  const at = (counts: number) => usualMeasurement(15, 130, counts);

  it('are where the expected chi-square is 9, from whichever side they are sought', () => {
    for (const counts of [1e3, 1e6]) {
      const { countsNeeded } = answered(both, chalk, at(counts));
      const { chiSquare } = separation(both, chalk, at(countsNeeded!));
      expect(chiSquare).toBeGreaterThanOrEqual(9);
      expect(chiSquare).toBeLessThan(9.5);
    }
  });

  it('are none where the doubt of the physics is larger than the difference, whatever is counted', () => {
    const trace = mixture([
      { formula: 'CaCO3', massFraction: 0.99999 },
      { formula: 'Sb2O3', massFraction: 0.00001 },
    ]);
    const { countsNeeded, mostSigma, sigma } = answered(trace, chalk, at(1e5));
    expect(countsNeeded).toBeNull();
    expect(mostSigma).toBeLessThan(3);
    expect(mostSigma).toBeGreaterThan(sigma);
  });

  it('are the fewest considered where they do', () => {
    expect(countsFor(massFractionsOf('PbS'), massFractionsOf('CaCO3'), at(1e4), 1e3).countsNeeded).toBe(FEWEST_COUNTS);
    expect(MOST_COUNTS).toBeGreaterThan(FEWEST_COUNTS);
  });
});

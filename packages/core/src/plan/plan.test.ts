import { describe, expect, it } from 'vitest';
import { massFractionsOf, mixture } from '../atomic/composition.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { BEAMS_KEV, COUNTS, planFor } from './plan.ts';
import type { Measurement } from './comparison.ts';
import { separation } from './separation.ts';

const instrument = { axis: { offsetEv: 0, gainEv: 10 }, detector: DEFAULT_DETECTOR };
const conditions = { instrument, channels: 2048, takeOffDeg: 40 };
const at = (beamKev: number, counts: number): Measurement => ({ ...conditions, beamEv: beamKev * 1000, counts });

const galena = massFractionsOf('PbS');
const lead = massFractionsOf('Pb');
const bismuth = massFractionsOf('Bi');
const bariumWhite = mixture([
  { formula: 'BaSO4', massFraction: 0.94 },
  { formula: 'TiO2', massFraction: 0.06 },
]);

describe('how far a measurement sets two explanations apart', () => {
  it('is nothing between an explanation and itself, nor where no line that differs is excited', () => {
    expect(separation(galena, galena, at(20, 1e5)).chiSquare).toBe(0);
    const zircon = mixture([
      { formula: 'SiO2', massFraction: 0.7 },
      { formula: 'ZrO2', massFraction: 0.3 },
    ]);
    // Zr L3 edge: 2.223 keV (X-Ray Data Booklet, Table 1-1); its M lines lie at the noise edge.
    expect(separation(zircon, massFractionsOf('SiO2'), at(2.1, 1e5)).chiSquare).toBeLessThan(5);
    expect(separation(zircon, massFractionsOf('SiO2'), at(5, 1e5)).chiSquare).toBeGreaterThan(1000);
  });

  it('grows with the counts, by less than in proportion: doubt about the physics stays', () => {
    for (const [truth, wrong] of [
      [galena, lead],
      [bismuth, lead],
      [bariumWhite, massFractionsOf('BaSO4')],
    ]) {
      const found = [1e4, 1e5, 1e6].map((counts) => separation(truth, wrong, at(20, counts)).chiSquare);
      expect(found[0]).toBeGreaterThan(0);
      for (let k = 1; k < found.length; k++) {
        expect(found[k]).toBeGreaterThan(found[k - 1]);
        expect(found[k]).toBeLessThan(10.5 * found[k - 1]);
      }
    }
  });

  it('jumps where the L lines of lead and bismuth are excited (L3 edges 13.035 and 13.419 keV, X-Ray Data Booklet)', () => {
    const below = separation(bismuth, lead, at(12, 1e5));
    const above = separation(bismuth, lead, at(25, 1e5));
    expect(below.lines.every(({ energyEv }) => energyEv < 5000)).toBe(true);
    expect(above.lines.some(({ energyEv }) => energyEv > 10_000)).toBe(true);
  });
});

describe('a plan', () => {
  const question = {
    symbol: 'Ti',
    z: 22,
    also: [],
    why: 'open' as const,
    withIt: bariumWhite,
    without: massFractionsOf('BaSO4'),
    instead: [],
  };

  it('names the fewest counts that settle a question, and the beam that does it best with so many', () => {
    const { proposal } = planFor(question, conditions);
    expect(proposal).not.toBeNull();
    expect(proposal!.confidence).toBeGreaterThanOrEqual(0.95);
    const fewer = COUNTS.filter((counts) => counts < proposal!.counts);
    for (const counts of fewer) {
      for (const beamKev of BEAMS_KEV) {
        const { chiSquare } = separation(question.withIt, question.without, at(beamKev, counts));
        expect(chiSquare).toBeLessThan(36 + 1.65 * 2 * Math.sqrt(chiSquare) + 1);
      }
    }
  });

  it('says so where no measurement settles it', () => {
    const trace = mixture([
      { formula: 'BaSO4', massFraction: 0.99995 },
      { formula: 'TiO2', massFraction: 0.00005 },
    ]);
    const { proposal, best } = planFor({ ...question, withIt: trace }, conditions);
    expect(proposal).toBeNull();
    expect(best!.confidence).toBeLessThan(0.95);
  });
});

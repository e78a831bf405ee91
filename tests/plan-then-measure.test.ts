// The whole way: a spectrum leaves bismuth, lead and sulfur among each other unsettled, the plan names a measurement, and that
// measurement, simulated, settles it.
import { describe, expect, it } from 'vitest';
import { identify, planMeasurement, planText, simulate } from '@limner/core';

const composition = [
  { formula: 'Bi', massFraction: 0.8 },
  { formula: 'PbS', massFraction: 0.2 },
];

describe('bismuth with a little lead sulfide at 12 keV', () => {
  const first = simulate({ composition }, { beamKev: 12, totalCounts: 20_000, seed: 3 });
  const plan = planMeasurement(first, { grain: { diameterUm: 3, densityGPerCm3: 8 } });
  const settled = plan.questions.filter(({ proposal }) => proposal !== null);

  it('leaves lead or sulfur open, and names a higher beam energy', () => {
    expect(settled.map(({ question }) => question.symbol).some((symbol) => symbol === 'Pb' || symbol === 'S')).toBe(
      true,
    );
    for (const { proposal, reach } of settled) {
      // L3 edges of lead and bismuth: 13.035 and 13.419 keV (X-Ray Data Booklet, Table 1-1).
      expect(proposal!.beamKev).toBeGreaterThan(13.4);
      expect(reach!.electronRangeUm).toBeGreaterThan(0);
    }
  });

  it('is settled by the measurement it names: of ten, at least eight', () => {
    const { beamKev, counts } = settled[0].proposal!;
    const { symbol } = settled[0].question;
    const verdicts = Array.from({ length: 10 }, (_, k) => {
      const again = identify(simulate({ composition }, { beamKev, totalCounts: counts, seed: 500 + k }));
      return again.elements.find((element) => element.symbol === symbol)!.verdict;
    });
    expect(verdicts.filter((verdict) => verdict === 'present').length).toBeGreaterThanOrEqual(8);
  });

  it('reads as plain text, with cautions', () => {
    const text = planText(plan);
    expect(text).toMatch(/Measure at \d+ keV/);
    expect(text).toMatch(/Licensed operators and local rules come\s+first/);
  });
});

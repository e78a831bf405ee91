import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { identify } from './identify.ts';

describe('an axis stated 2 % low', () => {
  it('does not make thallium of lead: the neighbour fits nearly as well, and the misfit gives it away', () => {
    const lead = simulate({ composition: '2PbCO3*Pb(OH)2' }, { beamKev: 20, totalCounts: 300_000, seed: 3 });
    const record = identify({ ...lead, axis: { ...lead.axis, gainEv: lead.axis.gainEv * 0.98 } });
    const verdicts = new Map(record.elements.map(({ symbol, verdict }) => [symbol, verdict]));
    expect(verdicts.get('Pb')).toBe('present');
    expect(verdicts.get('Tl')).not.toBe('present');
    expect(record.warnings.map(({ code }) => code)).toContain('axis-corrected');
    expect(record.axis.gainEv.value).toBeCloseTo(lead.axis.gainEv, 1);
  });
});

/** `npm run statistics` takes all, `npm test` every other. */
const WHOLE = process.env['LIMNER_WHOLE'] !== undefined;

describe('a wrong axis is put right', () => {
  const chalk = simulate({ composition: 'CaCO3' }, { beamKev: 20, totalCounts: 250_000, seed: 5 });
  const white = simulate({ composition: 'PbCO3' }, { beamKev: 20, totalCounts: 250_000, seed: 6 });
  const cases = [
    ['chalk', 0.955, 0, 'Ca', chalk],
    ['chalk', 1.025, 0, 'Ca', chalk],
    ['chalk', 1, 80, 'Ca', chalk],
    ['chalk', 1.05, 0, 'Ca', chalk],
    ['lead white', 0.965, 0, 'Pb', white],
    ['lead white', 0.97, 0, 'Pb', white],
    ['lead white', 0.98, 0, 'Pb', white],
  ] as const;
  it.each(cases.filter((_, i) => WHOLE || i % 2 === 0))(
    '%s, gain times %s, offset %s eV',
    (_name, gain, offset, symbol, spectrum) => {
      const axis = { gainEv: spectrum.axis.gainEv * gain, offsetEv: spectrum.axis.offsetEv + offset };
      const record = identify({ ...spectrum, axis });
      const present = record.elements.filter(({ verdict }) => verdict === 'present').map((finding) => finding.symbol);
      expect(present.sort()).toEqual(['C', 'O', symbol].sort());
      expect(record.warnings.map(({ code }) => code)).toContain('axis-corrected');
      expect(record.axis.gainEv.value).toBeCloseTo(spectrum.axis.gainEv, 1);
    },
  );
});

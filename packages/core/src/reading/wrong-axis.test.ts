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

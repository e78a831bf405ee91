import { describe, expect, it } from 'vitest';
import { poisson } from '../simulate/poisson.ts';
import { randomStream } from '../simulate/random.ts';
import { simulate } from '../simulate/simulate.ts';
import { identify, readingOf } from './identify.ts';

const codes = (spectrum: Parameters<typeof identify>[0]): string[] =>
  identify(spectrum).warnings.map(({ code }) => code);

describe('how a spectrum was excited', () => {
  const electrons = simulate({ composition: 'CaCO3' }, { beamKev: 20, totalCounts: 400_000, seed: 5 });

  it('is told where hardly any continuum lies under the lines, and weak elements are not required then', () => {
    // Photons bring the lines without the electrons' continuum; 4 % of it stand for scattered photons.
    const { curves } = readingOf(electrons);
    const random = randomStream(9, 0);
    const counts = electrons.counts.map((_, i) =>
      poisson(Math.max(0, curves.total[i] - 0.96 * curves.background[i]), random),
    );
    const record = identify({ ...electrons, counts });
    expect(record.warnings.map(({ code }) => code)).toContain('photon-excited');
    const present = record.elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
    expect(present).toContain('Ca');
    for (const symbol of present) expect(['C', 'O', 'Ca']).toContain(symbol);
  });

  it('is not mentioned where electrons brought the usual continuum', () => {
    expect(codes(electrons)).not.toContain('photon-excited');
    expect(codes(electrons)).not.toContain('thin-foil');
  });

  it('is told of a beam that goes through the specimen', () => {
    const foil = simulate(
      { composition: 'CaCO3' },
      { beamKev: 30, totalCounts: 100_000, seed: 6, channels: 1024, axis: { gainEv: 20, offsetEv: 0 } },
    );
    expect(codes({ ...foil, beamKev: 200 })).toContain('thin-foil');
  });
});

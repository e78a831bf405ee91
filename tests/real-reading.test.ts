// Real measurements of others on known samples: channels, counts, voltage and axis as their collection states them.
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSpectrum } from '../packages/core/src/spectrum/read.ts';
import { writeEmsa } from '../packages/core/src/spectrum/write.ts';
import { codeOf } from './emsa-reading.ts';
import { REAL_ABSENT, realFolder } from './real-folder.ts';

interface Facts {
  readonly stats: {
    /** Beam, kV; null where unknown. */
    readonly kV: number | null;
    readonly live_s: string | null;
    /** Channels, eV per channel, zero in keV, all counts. */
    readonly n: number;
    readonly eV: number;
    readonly zero: number;
    readonly total: number;
    readonly units: string;
  };
}

const folder = realFolder();
const facts: [string, Facts['stats']][] =
  folder === null
    ? [['the folder of real measurements', { kV: 0, live_s: null, n: 0, eV: 0, zero: 0, total: 0, units: '' }]]
    : Object.entries(JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')) as Record<string, Facts>).map(
        ([name, { stats }]) => [name, stats],
      );

describe(folder === null ? REAL_ABSENT : 'real measurements', () => {
  it.skipIf(folder === null).each(facts)('%s is read as its collection describes it', (name, stated) => {
    const bytes = readFileSync(join(folder!, name));
    const inChannels = stated.units.startsWith('chan');
    const axis = { gainEv: stated.eV, offsetEv: stated.zero * 1000 };
    if (inChannels) expect(codeOf(() => readSpectrum(bytes))).toBe('axis-in-channels');
    const spectrum = readSpectrum(bytes, { name: basename(name), ...(inChannels && { axis }) });

    expect(spectrum.source.name).toBe(basename(name));
    expect(spectrum.counts.length).toBe(stated.n);
    expect(spectrum.counts.reduce((sum, value) => sum + value, 0)).toBe(stated.total);
    // The collection rounds to 1 eV and 0.001 eV per channel.
    expect(Math.abs(spectrum.axis.gainEv - stated.eV)).toBeLessThan(0.0006);
    expect(Math.abs(spectrum.axis.offsetEv - stated.zero * 1000)).toBeLessThan(0.7);
    if (spectrum.beamKev !== null && stated.kV !== null) expect(spectrum.beamKev).toBe(stated.kV);
    if (stated.live_s !== null) expect(spectrum.liveTimeS).toBe(Number(stated.live_s));

    const again = readSpectrum(new TextEncoder().encode(writeEmsa(spectrum)));
    expect(again.counts).toEqual(spectrum.counts);
    expect(again.axis).toEqual(spectrum.axis);
    expect(again.beamKev).toBe(spectrum.beamKev);
  });
});

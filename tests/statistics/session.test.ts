// What a session's own knowledge of its instrument is worth, on an invented session with bent physics, a wrong header and a drift.
// LIMNER_SESSION=100 for the whole session, LIMNER_SEED for another one.
import { beforeAll, describe, expect, it } from 'vitest';
import { shareInstrument, type SharedInstrument } from '../../packages/core/src/fit/shared-instrument.ts';
import { identify } from '../../packages/core/src/reading/identify.ts';
import type { LimnerRecord } from '@limner/core';
import { axisError, estimatesOf, sessionOf, type SessionSpectrum } from './session.ts';

const SPECTRA = Number(process.env['LIMNER_SESSION'] ?? 24);
const SEED = Number(process.env['LIMNER_SEED'] ?? 11);
const COUNTS = 2000;
const READ = Math.min(SPECTRA, process.env['LIMNER_WHOLE'] === undefined ? 8 : 24);

const rms = (values: readonly number[]): number => Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

describe(`a session of ${SPECTRA} spectra of ${COUNTS} counts, seed ${SEED}`, () => {
  let session: SessionSpectrum[];
  let shared: SharedInstrument;
  let read: { spectrum: SessionSpectrum; alone: LimnerRecord; together: LimnerRecord }[];

  beforeAll(() => {
    session = sessionOf({ seed: SEED, spectra: SPECTRA, totalCounts: COUNTS, driftEv: 4 });
    shared = shareInstrument(estimatesOf(session));
    const every = Math.floor(SPECTRA / READ);
    read = session.flatMap((spectrum, i) => {
      if (i % every !== 0) return [];
      const instrument = shared.knowledge(spectrum.time, COUNTS / 60, i);
      return [{ spectrum, alone: identify(spectrum.spectrum), together: identify(spectrum.spectrum, { instrument }) }];
    });
  });

  const errors = (which: 'alone' | 'together', at: 'at2keV' | 'at6keV'): number[] =>
    read.map((one) => {
      const { offsetEv, gainEv } = one[which].axis;
      return axisError(one.spectrum, { offsetEv: offsetEv.value, gainEv: gainEv.value })[at];
    });

  it('knows its axis better than its spectra do', () => {
    const [alone2, together2] = [rms(errors('alone', 'at2keV')), rms(errors('together', 'at2keV'))];
    const [alone6, together6] = [rms(errors('alone', 'at6keV')), rms(errors('together', 'at6keV'))];
    const limits = read.flatMap(({ alone, together }) =>
      alone.elements.flatMap(({ verdict, limit }, i) => {
        const other = together.elements[i];
        return verdict === 'not-seen' && other.verdict === 'not-seen' && limit && other.limit
          ? [other.limit.counts / limit.counts]
          : [];
      }),
    );
    // eslint-disable-next-line no-console -- the measured figure
    console.log(
      `axis error, eV, alone / together: ${alone2.toFixed(2)} / ${together2.toFixed(2)} at 2 keV, ` +
        `${alone6.toFixed(2)} / ${together6.toFixed(2)} at 6 keV; detection limits together / alone: median ${median(limits).toFixed(3)}`,
    );
    expect(together2).toBeLessThan(1.5);
    expect(together6).toBeLessThan(0.6 * alone6);
  });

  it('is as sure of its axis as it says', () => {
    const pullsAt = (energyEv: number, at: 'at2keV' | 'at6keV'): number =>
      rms(
        session.map((spectrum, i) => {
          const { axis, pivotEv, positionSigmaEv, gainSigma } = shared.knowledge(spectrum.time, COUNTS / 60, i)!;
          return axisError(spectrum, axis)[at] / Math.hypot(positionSigmaEv, (energyEv - pivotEv) * gainSigma);
        }),
      );
    const [at2, at6] = [pullsAt(2000, 'at2keV'), pullsAt(6000, 'at6keV')];
    // eslint-disable-next-line no-console -- the measured figure
    console.log(`pulls of the shared axis: rms ${at2.toFixed(2)} at 2 keV, ${at6.toFixed(2)} at 6 keV`);
    expect(at2).toBeLessThan(2);
    expect(at6).toBeLessThan(2);
  });

  it('invents nothing, and loses nothing, by it', () => {
    const count = (which: 'alone' | 'together'): { present: number; invented: string[] } => {
      const present = read.flatMap((one) => {
        const there = new Set(['H', 'C', 'O', ...[...one.spectrum.composition.matchAll(/[A-Z][a-z]?/g)].map(String)]);
        return one[which].elements
          .filter(({ verdict }) => verdict === 'present')
          .map(({ symbol }) => ({ symbol, there: there.has(symbol) }));
      });
      return { present: present.length, invented: present.filter(({ there }) => !there).map(({ symbol }) => symbol) };
    };
    const [alone, together] = [count('alone'), count('together')];
    // eslint-disable-next-line no-console -- the measured figure
    console.log(`present alone / together: ${alone.present} / ${together.present}`);
    expect(together.invented).toEqual([]);
    expect(together.present).toBeGreaterThanOrEqual(alone.present - 1);
  });

  it('reads a spectrum of another setting on its own, and says so', () => {
    const [strong] = sessionOf({ seed: SEED, spectra: 1, totalCounts: 100_000, driftEv: 0 });
    const known = shared.knowledge(0, null)!;
    const instrument = { ...known, axis: { ...known.axis, offsetEv: known.axis.offsetEv + 20 } };
    const record = identify(strong.spectrum, { instrument });
    expect(record.warnings.map(({ code }) => code)).toContain('instrument-differs');
    expect(record.axis.shared).toBeNull();
  });
});

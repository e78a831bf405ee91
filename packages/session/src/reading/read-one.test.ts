import type { InstrumentKnowledge } from '@limner/core';
import { expect, it } from 'vitest';
import { join } from 'node:path';
import { emsaText } from '../../../../tests/fixtures/emsa.ts';
import { folderWith } from '../../../../tests/fixtures/folder.ts';
import { type ReadJob, readOne, type ReadOutcome } from './read-one.ts';

it('a reading stands while about the same is known of the instrument, and is made anew after that', async () => {
  const cwd = folderWith({ 'in/a.msa': emsaText('TiO2') });
  const known = (noise: number): InstrumentKnowledge => ({
    spectra: 12,
    axis: { gainEv: 10, offsetEv: 0 },
    pivotEv: 2000,
    positionSigmaEv: 1,
    gainSigma: 0.0005,
    noiseEv: { mean: noise, sigma: 3 },
    fano: { mean: 0.115, sigma: 0.003 },
    artefacts: {},
    thickWindow: null,
    taught: { ratios: [], layers: {}, findings: [] },
  });
  const job: ReadJob = {
    kind: 'read',
    folder: join(cwd, 'in'),
    name: 'a.msa',
    fault: null,
    store: join(cwd, 'store'),
    circumstances: '',
    options: {},
    axis: null,
    part: null,
    instrument: known(60),
    references: [],
    seen: null,
    stated: null,
    told: { place: null, ruledOut: false },
  };
  const read = async (noise: number): Promise<ReadOutcome> =>
    (await readOne({ ...job, instrument: known(noise) })) as ReadOutcome;
  const first = await read(60);
  expect([first.kind, first.kept]).toEqual(['read', false]);
  const again = await read(60.2);
  // What it was read with is told, so that the page reads it in the same way.
  expect([again.kept, again.instrument?.noiseEv.mean]).toEqual([true, 60]);
  expect({ ...again, kept: false }).toEqual(first);
  const anew = await read(63);
  expect([anew.kept, anew.instrument?.noiseEv.mean]).toEqual([false, 63]);
  expect((await read(63)).kept).toBe(true);
}, 60_000);

// A spectrum of a session that is opened by itself is read with what its sheet says: what else was seen, and the known materials.
import type { LimnerRecord } from '@limner/core';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { emsaText } from '../fixtures/emsa.ts';
import { servedFiles } from './stage.ts';

const FILES = {
  'grain.msa': emsaText('HgS', 1),
  'standard.msa': emsaText('PbCO3', 2),
  'samples.csv': 'file,sample,layer,particle,known,colour\ngrain.msa,P1,1,g1,,red\nstandard.msa,P1,,,PbCO3,\n',
};
let stage: Awaited<ReturnType<typeof servedFiles>>;

beforeAll(async () => {
  stage = await servedFiles(FILES, true);
  const isRead = async (): Promise<boolean> => (await asked<{ state: string }>('session')).state === 'read';
  await vi.waitUntil(isRead, { timeout: 120_000, interval: 200 });
});
afterAll(async () => stage.end());

const asked = async <T>(path: string): Promise<T> =>
  (await stage.app.inject({ url: `/api/${path}`, headers: { host: 'localhost' } })).json<T>();

/** Names of the references that a reading was held against or that it set aside. */
const heldAgainst = ({ references }: LimnerRecord): string[] =>
  [...(references?.compared ?? []), ...(references?.setAside ?? [])].map(({ name }) => name);

it('the server reads it with the colour that was seen, and holds it against the known material', async () => {
  const { record } = await asked<{ record: LimnerRecord }>('spectra/grain.msa/reading');
  expect(record.seen?.observations).toEqual([{ property: 'colour', value: 'red' }]);
  expect(heldAgainst(record)).toEqual(['standard.msa']);
});

it('the page gets the same to read it with', async () => {
  const { stated, inSession } = await asked<{
    stated: { options: { seen: unknown; references: { name: string }[] } };
    inSession: boolean;
  }>('spectra/grain.msa/source');
  expect(inSession).toBe(true);
  expect(JSON.stringify(stated.options.seen)).toContain('red');
  expect(stated.options.references.map(({ name }) => name)).toEqual(['standard.msa']);
});

it('a known material is not held against itself', async () => {
  const { record } = await asked<{ record: LimnerRecord }>('spectra/standard.msa/reading');
  expect(heldAgainst(record)).toEqual([]);
});

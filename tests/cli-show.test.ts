import { readFileSync, rmSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

const address = ({ stdout }: { readonly stdout: string }): string =>
  /http:\/\/127\.0\.0\.1:\d+/.exec(stdout)?.[0] ?? '';

it('prints the reading of the first spectrum and serves all of a folder on 127.0.0.1 until interrupted', async () => {
  const cwd = folderWith({ 's/a.msa': emsaText('TiO2'), 's/b.msa': emsaText('HgS'), 's/notes.txt': 'none' });
  let names: string[] = [];
  const { code, stdout } = await limner(['show', 's'], {
    cwd,
    env: { PORT: '0' },
    interrupted: async (io) => {
      const spectra = (await (await fetch(`${address(io)}/api/spectra`)).json()) as { name: string }[];
      names = spectra.map(({ name }) => name);
    },
  });
  expect(code).toBe(0);
  expect(stdout).toMatch(/^a\.msa: Invented TiO2\n/);
  expect(stdout).toMatch(/\nThe viewer is at http:\/\/127\.0\.0\.1:\d+ \(press Ctrl-C to stop it\)\.\n$/);
  expect(names).toEqual(['a.msa', 'b.msa']);
  await expect(fetch(address({ stdout }))).rejects.toThrow();
});

it('refuses a PORT that is taken', async () => {
  const cwd = folderWith({ 'a.msa': emsaText('TiO2') });
  const other = createServer();
  await new Promise<void>((done) => other.listen(0, '127.0.0.1', done));
  const { port } = other.address() as AddressInfo;
  const { code, stdout, stderr } = await limner(['show', 'a.msa'], { cwd, env: { PORT: String(port) } });
  other.close();
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(/this port is in use/);
});

it('names what is not there, shows the rest, and ends with 1', async () => {
  const cwd = folderWith({ 'bad.msa': '', 'a.msa': emsaText('TiO2') });
  const { code, stdout, stderr } = await limner(['show', 'gone.msa', 'bad.msa', 'a.msa'], {
    cwd,
    env: { PORT: '0' },
    interrupted: () => Promise.resolve(),
  });
  expect(code).toBe(1);
  expect(stdout).toMatch(/^a\.msa/);
  expect(stderr).toMatch(/^limner: gone\.msa: there is no such file or folder[^\n]*\nlimner: bad\.msa: [^\n]+\n$/);
});

it('ends with 3, without a viewer, when nothing can be read', async () => {
  const cwd = folderWith({ 'bad.msa': '' });
  expect(await limner(['show', 'bad.msa'], { cwd, env: { PORT: '0' } })).toMatchObject({ code: 3, stdout: '' });
});

it('shows a folder of results without reading anything again, and refuses options there', async () => {
  const cwd = folderWith({
    's/a.msa': emsaText('TiO2'),
    's/b.msa': emsaText('HgS'),
    's/bad.msa': '#FORMAT : EMSA/MAS\n',
  });
  expect((await limner(['tag', 's', '--out', 'read', '--mount', 'resin', '--quiet'], { cwd })).code).toBe(1);
  const records = readFileSync(join(cwd, 'read/records.ndjson'), 'utf8').trim().split('\n');
  rmSync(join(cwd, 's'), { recursive: true });
  let shown: Shown[] = [];
  let missing = 0;
  const { code, stdout } = await limner(['show', 'read'], {
    cwd,
    env: { PORT: '0' },
    interrupted: async (io) => {
      const get = (path: string): Promise<Response> => fetch(`${address(io)}/api/spectra/${path}`);
      shown = await Promise.all(
        ['a.msa', 'b.msa'].map(async (id) => (await (await get(`${id}/reading`)).json()) as Shown),
      );
      missing = (await get('bad.msa/reading')).status;
    },
  });
  expect(code).toBe(0);
  expect(stdout).toMatch(/^2\sspectra\. .*1\sfile could not be read\.\n/);
  expect(shown.map(({ record }) => JSON.stringify(record))).toEqual(records);
  expect(shown.every(({ curves, tree }) => curves === null && tree.nodes.length > 5)).toBe(true);
  expect(missing).toBe(422);
  const refused = await limner(['show', 'read', '--mount', 'resin'], { cwd, env: { PORT: '0' } });
  expect(refused.code).toBe(2);
  expect(refused.stderr).toMatch(/--mount cannot be used here: read holds results/);
}, 120_000);

interface Shown {
  readonly record: unknown;
  readonly tree: { readonly nodes: readonly unknown[] };
  readonly curves: unknown;
}

it("takes tag's options for a folder, and keeps its results where tag finds them", async () => {
  const cwd = folderWith({ 's/a.msa': emsaText('TiO2'), 's/b.msa': emsaText('HgS') });
  let mounted: string[] = [];
  await limner(['show', 's', '--mount', 'resin', '--out', 'read'], {
    cwd,
    env: { PORT: '0' },
    interrupted: async (io) => {
      const state = async (): Promise<string> =>
        ((await (await fetch(`${address(io)}/api/session`)).json()) as { state: string }).state;
      for (let tries = 0; (await state()) === 'reading' && tries < 1000; tries++)
        await new Promise((done) => setTimeout(done, 100));
      const { record } = (await (await fetch(`${address(io)}/api/spectra/a.msa/reading`)).json()) as {
        record: { conditions: { mount: string[] } };
      };
      mounted = record.conditions.mount;
    },
  });
  expect(mounted).toEqual(['resin']);
  const kept = readFileSync(join(cwd, 'read/records.ndjson'), 'utf8');
  expect((await limner(['tag', 's', '--out', 'read', '--mount', 'resin', '--quiet'], { cwd })).code).toBe(0);
  expect(readFileSync(join(cwd, 'read/records.ndjson'), 'utf8')).toBe(kept);
}, 120_000);

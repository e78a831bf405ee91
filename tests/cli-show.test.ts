import { createServer, type AddressInfo } from 'node:net';
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
  expect(stdout).toMatch(/\nThe viewer is at http:\/\/127\.0\.0\.1:\d+ \(Ctrl-C ends it\)\.\n$/);
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
  expect(stderr).toMatch(/this port is taken/);
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

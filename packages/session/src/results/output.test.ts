import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, rmSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith } from '../../../../tests/fixtures/folder.ts';
import { OutputError } from './output-error.ts';
import { OutputFolder } from './output.ts';

const FILES = [
  { name: 'a.txt', begins: 'a' },
  { name: 'last.txt', begins: 'l' },
];

it('removes what killed runs of this machine have left, and nothing else', async () => {
  const dead = spawnSync('true').pid;
  const folder = folderWith({
    [`.limner/run-${hostname()}-${dead}/a.txt`]: 'half',
    [`.limner/run-elsewhere-${dead}/a.txt`]: 'half',
    [`.limner/results/ab/abc.br.${hostname()}-${dead}-3.part`]: 'half',
    [`.limner/results/ab/abd.br.${hostname()}-1-3.part`]: 'of a process that lives',
    '.limner/results/ab/abe.br': 'whole',
  });
  const output = await OutputFolder.open(folder, FILES, []);
  await output.append('a.txt', 'all');
  await output.append('last.txt', 'l');
  await output.commit();
  await output.discard();
  expect(readdirSync(folder).sort()).toEqual(['.limner', 'a.txt', 'last.txt']);
  expect(readdirSync(join(folder, '.limner')).sort()).toEqual(['results', `run-elsewhere-${dead}`]);
  expect(readdirSync(join(folder, '.limner/results/ab')).sort()).toEqual([`abd.br.${hostname()}-1-3.part`, 'abe.br']);
});

it("keeps someone else's file", async () => {
  const folder = folderWith({ 'a.txt': 'mine' });
  await expect(OutputFolder.open(folder, FILES, [])).rejects.toThrow(OutputError);
  expect(readdirSync(folder)).toEqual(['a.txt']);
});

it('puts the last file in its place only when all others are: until then the folder is not complete', async () => {
  const folder = folderWith({ 'a.txt': 'a before', 'last.txt': 'l before' });
  const output = await OutputFolder.open(folder, FILES, []);
  await output.append('a.txt', 'a now');
  await output.append('last.txt', 'l now');
  // What keeps the first file out of its place.
  rmSync(join(folder, 'a.txt'));
  mkdirSync(join(folder, 'a.txt/in the way'), { recursive: true });
  await expect(output.commit()).rejects.toThrow(OutputError);
  await output.discard();
  expect(readdirSync(folder).sort()).toEqual(['.limner', 'a.txt']);
});

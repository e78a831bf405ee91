import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

it('limner sheet begins a sample sheet that limner tag reads, and replaces none unasked', async () => {
  const cwd = folderWith({ 'in/S1-L1-g1.msa': emsaText('TiO2'), 'in/S1-L2-g1.msa': emsaText('HgS') });
  expect(await limner(['sheet', 'in'], { cwd })).toMatchObject({ code: 0, stdout: '' });
  const text = readFileSync(join(cwd, 'in/samples.csv'), 'utf8');
  expect(text).toBe(
    'file,sample,layer,particle,magnification,known,note\nS1-L1-g1.msa,S1,1,g1,,,\nS1-L2-g1.msa,S1,2,g1,,,\n',
  );
  const again = await limner(['sheet', 'in'], { cwd });
  expect(again).toMatchObject({ code: 2 });
  expect(again.stderr).toMatch(/the file exists; --force replaces it/);
  expect((await limner(['sheet', 'in', '--out', '-'], { cwd })).stdout).toBe(text);
  expect((await limner(['tag', 'in', '--out', 'out'], { cwd })).code).toBe(0);
  const layers = readFileSync(join(cwd, 'out/layers.csv'), 'utf8');
  expect(layers).toMatch(/^S1,1,element,Ti,Ti,1,1$/m);
  expect(layers).toMatch(/^S1,2,element,Hg,Hg,1,1$/m);
  expect(readFileSync(join(cwd, 'out/report.html'), 'utf8')).toContain('<h2>Sample S1</h2>');
});

it('a wrong sheet ends a run with a line for each fault before anything is read', async () => {
  const cwd = folderWith({
    'in/a.msa': emsaText('TiO2'),
    'in/samples.csv': 'file,sample,layer\na.msa,S1,top\n,S1,1\n',
  });
  const { code, stderr } = await limner(['tag', 'in', '--out', 'out'], { cwd });
  expect(code).toBe(2);
  expect(stderr).toMatch(
    /^limner: samples\.csv, line 2: layer 'top'.+\nlimner: samples\.csv, line 3: the file is missing.+\n$/,
  );
});

it.each(['gone', 'empty'])('limner sheet of a folder that is %s ends with 3', async (folder) => {
  const cwd = folderWith({ 'empty/notes.txt': 'none' });
  expect(await limner(['sheet', folder], { cwd })).toMatchObject({ code: 3, stdout: '' });
});

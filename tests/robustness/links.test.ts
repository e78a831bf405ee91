import { realpathSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { createViewer } from '@limner/viewer';
import { describe, expect, it } from 'vitest';
import { emsaText } from '../fixtures/emsa.ts';
import { folderWith } from '../fixtures/folder.ts';
import { limner } from '../fixtures/cli.ts';

const SECRET = 'secret words of another folder';
const OUT = /leads out of the folder, so it is not read/;

/** A session 'in' with links, beside a folder 'elsewhere' that no reading of 'in' may touch. */
function session(links: Readonly<Record<string, string>>, files: Readonly<Record<string, string>> = {}): string {
  const cwd = folderWith({
    'in/a.msa': emsaText('TiO2'),
    'in/deep/b.msa': emsaText('ZnO'),
    'elsewhere/secret.msa': SECRET,
    'elsewhere/sheet.csv': `file,sample,layer\na.msa,S,${SECRET}\n`,
    'elsewhere/more/c.msa': emsaText('HgS'),
    ...files,
  });
  for (const [name, target] of Object.entries(links)) symlinkSync(target, join(cwd, name));
  return cwd;
}

describe('links in a folder of spectra', () => {
  it.each([
    ['a relative one', 'in/x.msa', '../elsewhere/secret.msa'],
    ['one of any name', 'in/x', '../elsewhere/secret.msa'],
    ['one to a folder', 'in/x', '../elsewhere/more'],
    ['one further down', 'in/deep/x.msa', '../../elsewhere/secret.msa'],
    ['one by way of a link inside', 'in/x.msa', 'y.msa'],
    ['one to the system', 'in/x.msa', '/etc/hostname'],
  ])('that lead out are named, and nothing of their target is read: %s', async (_, name, target) => {
    const cwd = session({ [name]: target, ...(target === 'y.msa' && { 'in/y.msa': '../elsewhere/secret.msa' }) });
    const { code, stderr } = await limner(['tag', 'in', '--out', 'out'], { cwd });
    const failures = readFileSync(join(cwd, 'out/failures.csv'), 'utf8');
    expect(failures).toContain(`\n${name.replace('in/', '')},`);
    expect(failures).toMatch(OUT);
    expect(failures + stderr).not.toMatch(/secret words|INVENTED/);
    expect(readFileSync(join(cwd, 'out/records.ndjson'), 'utf8').trim().split('\n')).toHaveLength(2);
    expect(code).toBe(1);
  });

  it('that lead round or nowhere are named', async () => {
    const cwd = session({
      'in/self.msa': 'self.msa',
      'in/one.msa': 'two.msa',
      'in/two.msa': 'one.msa',
      'in/deep/up': '..',
      'in/gone.msa': 'nowhere.msa',
    });
    const { code, stderr } = await limner(['tag', 'in', '--out', 'out'], { cwd });
    expect(code).toBe(1);
    for (const name of ['self.msa', 'one.msa', 'two.msa'])
      expect(stderr).toMatch(new RegExp(`^limner: ${name}: its symbolic links go round in a circle`, 'm'));
    expect(stderr).toMatch(/^limner: deep\/up: it is a link back to a folder that contains it/m);
    expect(stderr).toMatch(/^limner: gone\.msa: it is a link to a file that does not exist/m);
  });

  it('that stay inside are followed to files, and passed over where they lead to a folder read anyway', async () => {
    const cwd = session({ 'in/z.msa': 'deep/b.msa', 'in/latest': 'deep', through: 'in' });
    const { code, stderr } = await limner(['tag', 'through', '--out', 'out'], { cwd });
    expect({ code, stderr }).toEqual({
      code: 0,
      stderr: 'limner: z.msa: identical to deep/b.msa; counted once\n3 spectra read into out\n',
    });
  });

  it('make no sample sheet of a file elsewhere', async () => {
    const cwd = session({ 'in/samples.csv': '../elsewhere/sheet.csv' });
    const { code, stderr } = await limner(['tag', 'in', '--out', 'out'], { cwd });
    expect(code).toBe(2);
    expect(stderr).toMatch(/^limner: samples\.csv: [^\n]*leads out of the folder, so it is not read[^\n]*\n$/);
  });

  it('are named by the other commands that take a folder', async () => {
    const cwd = session({ 'in/x.msa': '../elsewhere/secret.msa' });
    const { code, stdout, stderr } = await limner(['sheet', 'in', '--out', '-'], { cwd });
    expect(stdout).not.toContain('x.msa');
    expect(stderr).toMatch(/^limner: x\.msa: [^\n]*leads out of the folder/);
    expect(code).toBe(1);
  });

  it('that turn up while the viewer serves the folder are not read', async () => {
    const cwd = session({ 'in/x.msa': '../elsewhere/secret.msa' });
    const folder = realpathSync(join(cwd, 'in'));
    const files = ['a.msa', 'x.msa'].map((name) => join(folder, name));
    const nothing = { folder, state: () => ({ state: 'reading', done: 0, total: 2, worked: 0, seconds: 0 }) as const };
    const viewer = await createViewer({
      files,
      session: { ...nothing, howRead: () => null, results: () => null, close: () => Promise.resolve() },
    });
    const list = await viewer.inject('/api/spectra');
    const reading = await viewer.inject('/api/spectra/x.msa/reading');
    expect(reading.statusCode).toBe(422);
    for (const { body } of [list, reading]) {
      expect(body).toMatch(OUT);
      expect(body).not.toContain('secret words');
    }
    await viewer.close();
  });
});

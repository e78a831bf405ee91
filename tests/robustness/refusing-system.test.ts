// A system that refuses: a folder that may not be entered, a disk that is full or read-only. Root may do all, so refusals are feigned.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { limner } from '../fixtures/cli.ts';
import { emsaText } from '../fixtures/emsa.ts';
import { folderWith } from '../fixtures/folder.ts';

vi.mock('node:fs/promises', async (original) => {
  const fs = await original<Record<string, (path: string) => Promise<unknown>>>();
  const refuse = (code: string): Promise<never> =>
    Promise.reject(Object.assign(new Error(`${code}: feigned`), { code }));
  const refusing =
    <A extends unknown[], R>(call: (path: string, ...rest: A) => Promise<R>) =>
    (path: string, ...rest: A): Promise<R> => {
      const [, code] = /\/(EACCES|EROFS|ENOSPC|EIO)(?:\/|\.|$)/.exec(path) ?? [];
      return code === undefined ? call(path, ...rest) : refuse(code);
    };
  const { readdir, mkdir, writeFile } = fs;
  return { ...fs, readdir: refusing(readdir), mkdir: refusing(mkdir), writeFile: refusing(writeFile) };
});

const SESSION = { 'in/a.msa': emsaText('TiO2'), 'in/z.msa': emsaText('ZnO') };

describe('a sub-folder that cannot be read', () => {
  it.each([
    ['EACCES', /you are not allowed to read it/],
    ['EIO', /it cannot be read \(EIO/],
  ])('(%s) is a failure of its own, and the rest is read', async (code, why) => {
    const cwd = folderWith({ ...SESSION, [`in/deep/${code}/b.msa`]: emsaText('HgS') });
    const ran = await limner(['tag', 'in', '--out', 'out'], { cwd });
    expect(ran.code).toBe(1);
    expect(ran.stderr).toMatch(new RegExp(`^limner: deep/${code}: [^\n]+\n2 spectra read into out, 1 not read\n$`));
    expect(ran.stderr).toMatch(why);
    const failures = readFileSync(join(cwd, 'out/failures.csv'), 'utf8').split('\n');
    expect(failures[1]).toContain(`deep/${code},`);
    expect(failures).toHaveLength(3);
  });

  it('is told by one part of a session only, and joined with the others', async () => {
    const cwd = folderWith({ ...SESSION, 'in/EACCES/b.msa': emsaText('HgS') });
    const codes: number[] = [];
    for (const k of [1, 2])
      codes.push((await limner(['tag', 'in', '--out', `p${k}`, '--part', `${k}/2`], { cwd })).code);
    expect(codes.filter((code) => code !== 0)).toHaveLength(1);
    await limner(['tag', 'in', '--out', 'whole'], { cwd });
    expect((await limner(['merge', 'p1', 'p2', '--out', 'merged'], { cwd })).code).toBe(1);
    for (const name of ['failures.csv', 'manifest.json', 'records.ndjson'])
      expect(readFileSync(join(cwd, 'merged', name), 'utf8')).toBe(readFileSync(join(cwd, 'whole', name), 'utf8'));
  });

  it('that is the folder itself ends the run', async () => {
    const cwd = folderWith({ 'EACCES/a.msa': emsaText('TiO2') });
    for (const argv of [
      ['tag', 'EACCES', '--out', 'out'],
      ['sheet', 'EACCES'],
      ['show', 'EACCES'],
    ]) {
      const { code, stderr } = await limner(argv, { cwd, env: { PORT: '0' } });
      expect(stderr).toMatch(/^limner: [^\n]*EACCES: you are not allowed to read it[^\n]*\n$/);
      expect(code).toBe(3);
    }
  });
});

describe('a disk that takes nothing is no wrong usage', () => {
  it.each([
    ['EROFS', /the disk is read-only; give --out a folder on another disk/],
    ['EACCES', /you are not allowed to write there; check its permissions or give --out another folder/],
    ['ENOSPC', /the disk is full; free some space and run the same command again/],
  ])('tag and merge: %s', async (code, why) => {
    const cwd = folderWith({ 'in/a.msa': emsaText('TiO2') });
    await limner(['tag', 'in', '--out', 'p1', '--part', '1/1'], { cwd });
    for (const argv of [
      ['tag', 'in'],
      ['merge', 'p1'],
    ]) {
      const ran = await limner([...argv, '--out', code], { cwd });
      expect(ran.stderr).toMatch(why);
      expect(ran.stderr).toMatch(/^limner: [^\n]+: the results cannot be written: [^\n]+\n$/);
      expect(ran).toMatchObject({ code: 3, stdout: '' });
      expect(existsSync(join(cwd, code))).toBe(false);
    }
  });

  it.each([
    ['EROFS', /the disk is read-only/],
    ['ENOSPC', /the disk is full/],
  ])('single files: %s', async (code, why) => {
    const cwd = folderWith(SESSION);
    // The partial file has a name like '.EROFS.123.part' in the folder of the same name.
    const argv = ['sheet', 'in', '--out', join(folderWith({ [`${code}/x`]: '' }), code, 'samples.csv')];
    const { code: exit, stderr } = await limner(argv, { cwd });
    expect(stderr).toMatch(why);
    expect(stderr).toMatch(/^limner: [^\n]+\n$/);
    expect(exit).toBe(3);
  });
});

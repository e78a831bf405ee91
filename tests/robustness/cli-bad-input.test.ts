import { causeOf } from '@limner/session';
import { mkdirSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { limner } from '../fixtures/cli.ts';
import { emsaFile } from '../fixtures/emsa.ts';
import { folderWith } from '../fixtures/folder.ts';

const some = Array<number>(256).fill(40);

/** Text and binary inputs that are no spectrum, with what the error must at least say. */
const BAD: readonly (readonly [string, string | Uint8Array, RegExp])[] = [
  ['empty', '', /empty/i],
  ['only line breaks', '\r\n\r\n\n', /./],
  ['binary', Uint8Array.from({ length: 4096 }, (_, i) => (i * 197 + (i >> 3)) % 256), /./],
  ['a picture', Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]), /./],
  ['prose', 'Dear colleague,\nplease find the spectra in the annex.\n', /./],
  [
    'a header without NPOINTS and without data',
    '#FORMAT      : EMSA/MAS Spectral Data File\n#VERSION     : 1.0\n',
    /./,
  ],
  ['a header that ends in the middle', emsaFile([], some).slice(0, 150), /./],
  ['NaN counts', emsaFile([], [...some, 'NaN', ...some]), /NaN|number/i],
  ['infinite counts', emsaFile([], [...some, 'Infinity', ...some]), /./],
  ['negative counts', emsaFile([], [...some, -5, ...some]), /negative|-5/i],
  ['zero XPERCHAN', emsaFile([], some, 0), /XPERCHAN/],
  ['negative XPERCHAN', emsaFile([], some, -10), /XPERCHAN/],
  ['words among the counts', emsaFile([], [...some, 'forty', ...some]), /forty|number/i],
  ['an axis in channels', emsaFile([], some, 1).replace(': eV', ': channel'), /--axis/],
];

describe('bad input gives one clear error, exit code 3 and an empty standard output', () => {
  it.each(BAD)('%s', async (_, content, message) => {
    const cwd = folderWith({ 'x.msa': content });
    const { code, stdout, stderr } = await limner(['identify', '--json', 'x.msa'], { cwd });
    expect({ code, stdout }).toEqual({ code: 3, stdout: '' });
    expectOneLine(stderr, 'x.msa');
    expect(stderr).toMatch(message);
  });

  it.each(BAD)('%s, on standard input', async (_, content) => {
    const { code, stdout, stderr } = await limner(['identify', '-'], { stdin: content });
    expect({ code, stdout }).toEqual({ code: 3, stdout: '' });
    expectOneLine(stderr, 'standard input');
  });

  it('a missing file, a folder, a dangling link', async () => {
    const cwd = folderWith({});
    mkdirSync(join(cwd, 'folder'));
    symlinkSync('nowhere', join(cwd, 'link'));
    for (const [name, message] of [
      ['gone.msa', /there is no such file/],
      ['folder', /this is a folder, not a file; 'tag' reads folders/],
      ['link', /there is no such file/],
      ['gone/x.msa', /there is no such file/],
    ] as const) {
      const { code, stdout, stderr } = await limner(['identify', name], { cwd });
      expect({ code, stdout }).toEqual({ code: 3, stdout: '' });
      expectOneLine(stderr, name);
      expect(stderr).toMatch(message);
    }
  });

  it('a file of 200 MB is refused by its size, without being read', async () => {
    const cwd = folderWith({ 'large.msa': '' });
    truncateSync(join(cwd, 'large.msa'), 200e6);
    const { code, stdout, stderr } = await limner(['identify', 'large.msa'], { cwd });
    expect({ code, stdout }).toEqual({ code: 3, stdout: '' });
    expect(stderr).toMatch(/too large for a spectrum \(191 MiB; at most 64 MiB/);
  });

  it('endless input on a pipe is refused once it is too large', async () => {
    const { code, stderr } = await limner(['identify', '-'], { stdin: new Uint8Array(65 * 1024 * 1024).fill(49) });
    expect(code).toBe(3);
    expect(stderr).toMatch(/standard input: too large/);
  });

  it('a file without permission to read (said here by the system error alone, since root may read everything)', () => {
    const error = Object.assign(new Error('EACCES: permission denied'), { code: 'EACCES' });
    expect(causeOf(error)).toBe('you are not allowed to read it; check its permissions');
  });

  it('a name that would steer the terminal comes out harmless', async () => {
    const cwd = folderWith({});
    const name = 'a\u001b[2Jb.msa';
    writeFileSync(join(cwd, name), '');
    const { stderr } = await limner(['identify', name], { cwd });
    expect(stderr).not.toContain('\u001b');
  });
});

function expectOneLine(stderr: string, name: string): void {
  expect(stderr).toMatch(/^limner: [^\n]+\n$/);
  expect(stderr).toContain(`limner: ${name}: `);
  expect(stderr).not.toMatch(/\bat .*\.ts:\d+|TypeError|undefined|\[object/);
}

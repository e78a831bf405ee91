import { readSpectrum } from '@limner/core';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { folderWith } from './fixtures/folder.ts';

const set = ['exercise', '--level', '1', '--seed', '40961', '--number', '2', '--out', 'set'];

describe('limner exercise', () => {
  const cwd = mkdtempSync(join(tmpdir(), 'limner-exercise-'));
  afterAll(() => rmSync(cwd, { recursive: true, force: true }));
  const at = (...path: string[]): string => join(cwd, ...path);
  const text = (...path: string[]): string => readFileSync(at(...path), 'utf8');

  it('writes blind spectra and a sheet, and the key beside the folder', async () => {
    expect(await limner(set, { cwd })).toMatchObject({ code: 0, stdout: '' });
    expect(readdirSync(at('set')).sort()).toEqual(['exercise-1.msa', 'exercise-2.msa', 'sheet.csv']);
    const { recipes } = JSON.parse(text('set-key.json')) as { recipes: string[] };
    recipes.forEach((recipe, i) => {
      const file = text('set', `exercise-${i + 1}.msa`);
      expect(file).toContain(createHash('sha256').update(recipe).digest('hex'));
      const { parts } = JSON.parse(recipe) as { parts: { of: string }[] };
      for (const { of } of parts) expect(file).not.toContain(of);
      expect(readSpectrum(new TextEncoder().encode(file)).title).toBe(`SIMULATED exercise ${i + 1}`);
    });
  });

  it('writes the same again, and over nothing', async () => {
    const refused = await limner(set, { cwd });
    expect(refused.code).toBe(2);
    expect(refused.stderr).toMatch(/set-key\.json: the file exists/);
    const again = await limner([...set.slice(0, -1), 'again', '--key', 'other.json'], { cwd });
    expect(again.code).toBe(0);
    expect(text('again', 'exercise-2.msa')).toBe(text('set', 'exercise-2.msa'));
    expect(text('other.json')).toBe(text('set-key.json'));
  });

  it('marks sheets: a line for the class, tables and a page to print', async () => {
    const [head, ...rows] = text('set', 'sheet.csv').trim().split('\n');
    const saying = (answer: string): string =>
      [head, ...rows.map((row) => (row.includes('material') ? row : row.replace(/,,$/, `,${answer},`)))].join('\n');
    writeFileSync(at('bold.csv'), saying('present'));
    writeFileSync(at('shy.csv'), saying('cannot-tell'));
    const marked = await limner(
      ['exercise', '--mark', 'bold.csv', 'shy.csv', 'none.csv', '--key', 'set-key.json', '--out', 'marks'],
      { cwd },
    );
    expect(marked.code).toBe(1);
    expect(marked.stderr).toMatch(/none\.csv: there is no such file/);
    const points = (name: string): number => Number(new RegExp(`^${name},(-?[\\d.]+),`, 'm').exec(marked.stdout)![1]);
    expect(points('bold')).toBeLessThan(points('shy'));
    expect(readdirSync(at('marks')).sort()).toEqual(['bold-marks.csv', 'class.csv', 'marks.html', 'shy-marks.csv']);
    expect(text('marks', 'bold-marks.csv')).toMatch(/so the counts decide|the counts cannot decide/);
    expect(text('marks', 'marks.html')).toContain('no evidence about any object');
  });

  it.each([
    [['exercise', '--out', 'x'], /give --level/],
    [['exercise', '--level', '4', '--out', 'x'], /choices are 1, 2, 3/],
    [['exercise', '--level', '1'], /give --out/],
    [['exercise', '--mark', 'bold.csv'], /--mark needs --key/],
    [['exercise', '--mark', 'bold.csv', '--key', 'nowhere.json'], /no such file/],
    [['exercise', '--mark', 'bold.csv', '--key', 'bold.csv'], /not an exercise key/],
    [['exercise', '--mark', 'bold.csv', '--key', 'set-key.json', '--level', '1'], /from the key/],
  ])('%j is refused', async (argv, message) => {
    const { code, stdout, stderr } = await limner(argv, { cwd });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(message);
    expect(stderr).toMatch(/^limner: [^\n]+\n$/);
    expect(existsSync(at('x'))).toBe(false);
  });
});

describe('limner clash --all', () => {
  it('lists the pairs, and draws them', async () => {
    const cwd = folderWith({});
    const { code, stdout } = await limner(['clash', '--all', '--within', '20eV', '--beam', '15'], { cwd });
    expect(code).toBe(0);
    expect(stdout).toMatch(/Zn L2-M4 .*Na K-L3/);
    for (const out of ['chart.svg', 'chart.pdf'])
      expect((await limner(['clash', '--all', '--out', out, '--paper', 'A1'], { cwd })).code).toBe(0);
    expect(readFileSync(join(cwd, 'chart.svg'), 'utf8')).toMatch(/^<svg /);
    expect(readFileSync(join(cwd, 'chart.pdf'), 'latin1')).toMatch(/^%PDF/);
    // This command has no --force to name.
    const again = await limner(['clash', '--all', '--out', 'chart.svg'], { cwd });
    expect(again).toMatchObject({ code: 2, stderr: 'limner: chart.svg: the file exists; give another name\n' });
  });

  it.each([
    [['clash', '--all', 'Pb', 'S'], /takes no elements/],
    [['clash', '--all', '--out', 'chart.gif'], /an \.svg or \.pdf file/],
    [['clash', '--all', '--paper', 'A1'], /--paper needs --out/],
    [['clash', '--all', '--out', 'c.pdf', '--paper', 'A9'], /use one of A4, A3, A2, A1/],
    [['clash', 'Pb', 'S', '--within', '9eV'], /need --all/],
  ])('%j is refused', async (argv, message) => {
    const { code, stdout, stderr } = await limner(argv, { cwd: folderWith({}) });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(message);
  });
});

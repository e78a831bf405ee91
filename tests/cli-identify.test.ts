import type { LimnerRecord } from '@limner/core';
import { recordSchema } from '@limner/core';
import { Ajv } from 'ajv';
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { emsaFile, emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

const validate = new Ajv().compile(recordSchema);

function records(stdout: string): LimnerRecord[] {
  expect(stdout.endsWith('\n')).toBe(true);
  return stdout
    .trimEnd()
    .split('\n')
    .map((line) => {
      const record: unknown = JSON.parse(line);
      expect(validate(record), JSON.stringify(validate.errors)).toBe(true);
      return record as LimnerRecord;
    });
}

const present = ({ elements }: LimnerRecord): string[] =>
  elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);

describe('limner identify --json', () => {
  it('prints one valid record per file, in the order given, with the hash of the bytes', async () => {
    const files = { 'b.msa': emsaText('HgS'), 'a.msa': emsaText('TiO2') };
    const cwd = folderWith(files);
    const { code, stdout, stderr } = await limner(['identify', '--json', 'b.msa', 'a.msa'], { cwd });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const [mercury, titanium, ...more] = records(stdout);
    expect(more).toEqual([]);
    expect(mercury.source).toMatchObject({
      name: 'b.msa',
      sha256: createHash('sha256').update(files['b.msa']).digest('hex'),
    });
    expect(present(mercury)).toEqual(expect.arrayContaining(['S', 'Hg']));
    expect(present(titanium)).toContain('Ti');
  });

  it('gives the same bytes for the same input', async () => {
    const cwd = folderWith({ 'a.msa': emsaText('HgS') });
    const [first, second] = [
      await limner(['identify', '--json', 'a.msa'], { cwd }),
      await limner(['identify', '--json', 'a.msa'], { cwd }),
    ];
    expect(first.stdout).toBe(second.stdout);
  });

  it('reads standard input for -', async () => {
    const { code, stdout } = await limner(['identify', '--json', '-'], { stdin: emsaText('TiO2') });
    expect(code).toBe(0);
    expect(records(stdout)[0].source.name).toBe('standard input');
  });

  it('goes on after a file that cannot be read, names it on standard error only, and ends with 1', async () => {
    const cwd = folderWith({ 'good.msa': emsaText('TiO2'), 'bad.msa': '' });
    const { code, stdout, stderr } = await limner(['identify', '--json', 'bad.msa', 'good.msa', 'gone.msa'], { cwd });
    expect(code).toBe(1);
    expect(records(stdout).map(({ source }) => source.name)).toEqual(['good.msa']);
    expect(stderr).toMatch(/^limner: bad\.msa: [^\n]+\nlimner: gone\.msa: there is no such file[^\n]+\n$/);
  });

  it('ends with 3 when nothing could be read', async () => {
    const cwd = folderWith({});
    expect(await limner(['identify', '--json', 'x.msa', 'y.msa'], { cwd })).toMatchObject({ code: 3, stdout: '' });
  });
});

describe('the options', () => {
  it('--beam wins over the file, and the record says so', async () => {
    const cwd = folderWith({ 'a.msa': emsaText('TiO2') });
    const { stdout } = await limner(['identify', '--json', '--beam', '18', 'a.msa'], { cwd });
    expect(records(stdout)[0].conditions.beamKev).toEqual({ value: 18, origin: 'option' });
  });

  it('--axis gives what a header in channels lacks', async () => {
    const inChannels = emsaText('TiO2')
      .replace('#XUNITS      : eV', '#XUNITS      : channel')
      .replace('#XPERCHAN    : 40', '#XPERCHAN    : 1');
    const cwd = folderWith({ 'a.msa': inChannels });
    const without = await limner(['identify', '--json', 'a.msa'], { cwd });
    expect(without).toMatchObject({ code: 3, stdout: '' });
    expect(without.stderr).toMatch(/--axis/);
    const given = await limner(['identify', '--json', '--axis', '40,0', 'a.msa'], { cwd });
    expect(given.code).toBe(0);
    expect(present(records(given.stdout)[0])).toContain('Ti');
  });

  it('--claim is answered, --without is answered, --mount is kept', async () => {
    const cwd = folderWith({ 'a.msa': emsaText('HgS') });
    const argv = ['identify', '--json', '--claim', 'Hg,Cu', '--without', 'S', '--mount', 'carbon-stub', 'a.msa'];
    const [record] = records((await limner(argv, { cwd })).stdout);
    expect(record.claims.map(({ symbol, answer }) => [symbol, answer])).toEqual([
      ['Hg', 'supported'],
      ['Cu', 'cannot-tell'],
    ]);
    expect(record.without!.symbols).toEqual(['S']);
    expect(record.conditions.mount).toEqual(['carbon-stub']);
  });
});

describe('limner identify for people', () => {
  it('prints a reading per file with a rule between them', async () => {
    const cwd = folderWith({ 'a.msa': emsaText('HgS'), 'b.msa': emsaText('TiO2') });
    const { code, stdout, stderr } = await limner(['identify', 'a.msa', 'b.msa'], { cwd });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const [first, second] = stdout.split(`${'-'.repeat(100)}\n`);
    expect(first).toMatch(/^a\.msa: Invented HgS\n\n[^\n]*[Mm]ercury/);
    expect(second).toMatch(/^b\.msa: Invented TiO2\n\n[^\n]*[Tt]itanium/);
  });

  it('fits one screen unless all is asked for, and folds to the width of the terminal', async () => {
    const cwd = folderWith({ 'a.msa': emsaText('HgS') });
    const lines = async (columns: number | undefined, ...options: string[]): Promise<string[]> =>
      (await limner(['identify', 'a.msa', ...options], { cwd, ...(columns && { columns }) })).stdout.split('\n');
    const widest = (text: readonly string[]): number => Math.max(...text.map((line) => line.length));
    const brief = await lines(undefined);
    expect(brief.length).toBeLessThanOrEqual(41);
    expect(widest(brief)).toBeLessThanOrEqual(100);
    expect(widest(await lines(64))).toBeLessThanOrEqual(64);
    const full = await lines(undefined, '--full');
    expect(full.length).toBeGreaterThan(3 * brief.length);
    expect(full.join('\n')).toContain('Ledger of all counts');
  });

  it('says so when there are too few counts to read', async () => {
    const cwd = folderWith({ 'a.msa': emsaFile([], Array<number>(1024).fill(0)) });
    const { code, stdout, stderr } = await limner(['identify', 'a.msa'], { cwd });
    expect({ code, stdout }).toEqual({ code: 3, stdout: '' });
    expect(stderr).toMatch(/a\.msa.*counts/);
  });

  it('asks about what does not go with the date that the object is said to have', async () => {
    const cwd = folderWith({ 'a.msa': emsaText('TiO2') });
    const { code, stdout } = await limner(['identify', '--dated', '1650', 'a.msa'], { cwd });
    expect(code).toBe(0);
    expect(stdout).toContain('Stated year 1650');
    expect(stdout).toMatch(/known from\s+about\s+19\d\d;.*restoration/s);
    const wrong = await limner(['identify', '--dated', 'soon', 'a.msa'], { cwd });
    expect(wrong).toMatchObject({ code: 2, stdout: '' });
    expect(wrong.stderr).toMatch(/^limner: --dated soon:/);
  });
});

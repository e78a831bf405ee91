// Own entries: `--pigments FILE` of the command line. The entries are invented.
import type { LimnerRecord } from '@limner/core';
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

const HEADING = 'id,name,class,composition,required,composition_source';
const OWN = 'invented-red,Invented red,pigment,HgS,Hg,own notes';
const GOOD = `${HEADING}\n${OWN}\n`;

async function recordWith(csv: string, more: readonly string[] = []): Promise<LimnerRecord> {
  const cwd = folderWith({ 'grain.msa': emsaText('HgS'), 'mine.csv': csv });
  const { code, stdout, stderr } = await limner(
    ['identify', 'grain.msa', '--json', '--pigments', 'mine.csv', ...more],
    { cwd },
  );
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return JSON.parse(stdout) as LimnerRecord;
}

async function refused(csv: string | Buffer): Promise<string[]> {
  const cwd = folderWith({ 'grain.msa': emsaText('HgS') });
  writeFileSync(join(cwd, 'mine.csv'), csv);
  const { code, stdout, stderr } = await limner(['identify', 'grain.msa', '--pigments', 'mine.csv'], { cwd });
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).not.toMatch(/\n {4}at /);
  return stderr.trimEnd().split('\n');
}

describe('own entries', () => {
  it('are weighed as the others are, and the record names their file', async () => {
    const { pigments, ownMaterials, warnings } = await recordWith(GOOD);
    expect(pigments.find(({ id }) => id === 'invented-red')).toMatchObject({
      name: 'Invented red',
      standing: 'allowed',
      required: ['Hg'],
    });
    const sha256 = createHash('sha256').update(GOOD).digest('hex');
    expect(ownMaterials).toEqual({ file: 'mine.csv', sha256, entries: 1, replaced: [] });
    expect(warnings.map(({ text }) => text)).toContain(
      'The table of materials includes 1\u00a0material of your own (mine.csv).',
    );
  });

  it('stand in place of those with their id, also for dating and brightness', async () => {
    const heading = `${HEADING},earliest,dates_trust,dates_source`;
    const row = 'vermilion,Vermilion of the archive,pigment,HgS,Hg S,own notes,1999,high,own archive';
    const record = await recordWith(`${heading}\n${row}\n`);
    const mine = record.pigments.find(({ id }) => id === 'vermilion')!;
    expect(mine).toMatchObject({ name: 'Vermilion of the archive', earliestUse: 1999, hue: 'not stated' });
    expect(record.pigments.filter(({ id }) => id === 'vermilion')).toHaveLength(1);
    expect(record.ownMaterials?.replaced).toEqual(['vermilion']);
    expect(record.warnings.map(({ text }) => text).join()).toContain('They replace vermilion.');
    expect(record.brightness.candidates.map(({ id }) => id)).toContain('vermilion');
  });

  it('may date an element that only they bring', async () => {
    const heading = `${HEADING},earliest,dates_trust,dates_source`;
    const row = 'invented-yellow,Invented yellow,pigment,Ta2O5,Ta,own notes,1998,high,own archive';
    const cwd = folderWith({ 'grain.msa': emsaText('Ta2O5'), 'mine.csv': `${heading}\n${row}\n` });
    const { stdout } = await limner(['identify', 'grain.msa', '--json', '--pigments', 'mine.csv'], { cwd });
    const { dating } = JSON.parse(stdout) as LimnerRecord;
    expect(dating.find(({ symbol }) => symbol === 'Ta')).toMatchObject({ year: 1998, materials: ['invented-yellow'] });
  });

  it('are told in the reading, allowed or ruled out', async () => {
    const cwd = folderWith({
      'grain.msa': emsaText('HgS'),
      'mine.csv': `${GOOD}invented-two,Invented two,pigment,HgO,Hg,own notes\n`,
    });
    const { stdout } = await limner(['identify', '--full', 'grain.msa', '--pigments', 'mine.csv'], { cwd });
    expect(stdout).toContain('2 materials of your own (mine.csv)');
    expect(stdout).toMatch(/Invented two:/);
  });

  it('may stand in a file of a spreadsheet: semicolons, byte order mark, remarks, CRLF', async () => {
    const csv = `\ufeff${HEADING.replaceAll(',', ';')}\r\n# a remark\r\n${OWN.replaceAll(',', ';')}\r\n`;
    expect((await recordWith(csv)).ownMaterials?.entries).toBe(1);
  });
});

describe('faulty own entries end the run, each fault in a line', () => {
  it.each<[string, string, string]>([
    [
      'column',
      `${HEADING},colour\n${OWN},red\n`,
      "limner: mine.csv, line 1: there is no column 'colour'; the columns are id,",
    ],
    ['missing column', 'id,name\na,A\n', 'limner: mine.csv, line 1: the heading lacks class, composition, required'],
    [
      'formula',
      `${HEADING}\na,A,pigment,HgQ,Hg,own\n`,
      "limner: mine.csv, line 2 (a), column composition: The formula 'HgQ'",
    ],
    [
      'requirement',
      `${HEADING}\na,A,pigment,HgS,Pb,own\n`,
      'limner: mine.csv, line 2 (a), column required: Pb is not in',
    ],
    [
      'source',
      `${HEADING}\na,A,pigment,HgS,Hg,\n`,
      'limner: mine.csv, line 2 (a), column composition_source: it is empty',
    ],
    ['id twice', `${GOOD}${OWN}\n`, 'limner: mine.csv, line 3 (invented-red), column id: line 2 has it already'],
    ['cells', `${HEADING}\na,A\n`, 'limner: mine.csv, line 2 (a): 2 cells under 6 columns'],
    ['quotes', `${HEADING}\n"a,A\n`, 'limner: mine.csv: Quote Not Closed'],
    ['nothing', '', 'limner: mine.csv: it is empty; give it a heading'],
    ['no entry', `${HEADING}\n`, 'limner: mine.csv, line 1: there is no entry below the heading'],
  ])('%s', async (_, csv, expected) => {
    const [line, ...more] = await refused(csv);
    expect(line).toContain(expected);
    expect(more).toEqual([]);
  });

  it('several', async () => {
    const lines = await refused(`${HEADING}\na,A,paint,HgS,Hg,own\nb,B,pigment,HgS,Xx,own\n`);
    expect(lines.map((line) => /line \d+ \(.\), column \w+/.exec(line)?.[0])).toEqual([
      'line 2 (a), column class',
      'line 3 (b), column required',
    ]);
  });

  it('bytes that are no text, and no file', async () => {
    expect(await refused(Buffer.from([0x69, 0xfc, 0x2c]))).toEqual([
      'limner: mine.csv: it is not UTF-8 text; save it as CSV in UTF-8',
    ]);
    const cwd = folderWith({ 'grain.msa': emsaText('HgS') });
    const { code, stderr } = await limner(['identify', 'grain.msa', '--pigments', 'none.csv'], { cwd });
    expect(code).toBe(2);
    expect(stderr).toBe('limner: none.csv: there is no such file; check the name and the folder\n');
  });
});

it('limner tag carries them to its workers and into the manifest, and reads again when they change', async () => {
  const cwd = folderWith({ 'in/grain.msa': emsaText('HgS'), 'mine.csv': GOOD });
  const tag = async (): Promise<LimnerRecord> => {
    const { code, stderr } = await limner(['tag', 'in', '--out', 'out', '--pigments', 'mine.csv'], { cwd });
    expect(code, stderr).toBe(0);
    return JSON.parse(readFileSync(join(cwd, 'out/records.ndjson'), 'utf8')) as LimnerRecord;
  };
  const first = await tag();
  expect(first.pigments.find(({ id }) => id === 'invented-red')?.standing).toBe('allowed');
  expect(readFileSync(join(cwd, 'out/manifest.json'), 'utf8')).toContain(`"sha256":"${first.ownMaterials!.sha256}"`);
  writeFileSync(join(cwd, 'mine.csv'), GOOD.replace('Invented red', 'Invented crimson'));
  const second = await tag();
  expect(second.pigments.find(({ id }) => id === 'invented-red')?.name).toBe('Invented crimson');
  expect(second.ownMaterials!.sha256).not.toBe(first.ownMaterials!.sha256);
  const bad = await limner(['tag', 'in', '--out', 'out', '--pigments', 'in'], { cwd });
  expect(bad.code).toBe(2);
});

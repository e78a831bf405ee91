import { recordSchema, type LimnerRecord } from '@limner/core';
import { Ajv } from 'ajv';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

const NAMES = [
  'curves.ndjson',
  'datapackage.json',
  'elements.csv',
  'failures.csv',
  'grains.csv',
  'kind-members.csv',
  'kinds.csv',
  'layers.csv',
  'manifest.json',
  'notes.csv',
  'pigments.csv',
  'profile.csv',
  'records.ndjson',
  'report.html',
  'ro-crate-metadata.json',
];
/** Results that stand in the folder, ours that are kept for a next run left out. */
const shown = (folder: string): string[] =>
  readdirSync(folder)
    .filter((name) => name !== '.limner')
    .sort();
const session = {
  'in/b.msa': emsaText('HgS'),
  'in/layer 1/a.EMSA': emsaText('TiO2'),
  'in/notes.txt': 'Two grains.\n',
};

const read = (cwd: string, name: string): string => readFileSync(join(cwd, name), 'utf8');

describe('limner tag', () => {
  it('writes the records, tables and report of a folder, in order of path', async () => {
    const cwd = folderWith(session);
    const { code, stdout, stderr } = await limner(['tag', 'in', '--out', 'out', '--mount', 'carbon-stub'], { cwd });
    expect({ code, stdout }).toEqual({ code: 0, stdout: '' });
    expect(stderr).toBe('2 spectra read into out; 1 other file ignored\n');
    expect(shown(join(cwd, 'out'))).toEqual(NAMES);
    const validate = new Ajv().compile(recordSchema);
    const records = read(cwd, 'out/records.ndjson')
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as LimnerRecord);
    for (const record of records) expect(validate(record), JSON.stringify(validate.errors)).toBe(true);
    expect(records.map(({ source }) => source.name)).toEqual(['b.msa', 'layer 1/a.EMSA']);
    expect(records[0]?.conditions.mount).toEqual(['carbon-stub']);
    const rows = read(cwd, 'out/elements.csv').trimEnd().split('\n');
    expect([...new Set(rows.map((row) => row.split(',')[0]))]).toEqual(['file', 'b.msa', 'layer 1/a.EMSA']);
    expect(rows).toContainEqual(expect.stringMatching(/^b\.msa,,,,Hg,present,/));
    expect(rows).toHaveLength(1 + records.reduce((sum, { elements }) => sum + elements.length, 0));
    expect(read(cwd, 'out/pigments.csv')).toMatch(/^b\.msa,vermilion,/m);
    expect(read(cwd, 'out/failures.csv')).toBe('file,reason\n');
    expect(read(cwd, 'out/report.html')).toContain('Readings of 2\u00a0spectra');
  });

  it('gives the same bytes for the same input, and replaces only its own files', async () => {
    const cwd = folderWith({ ...session, 'out/mine.txt': 'keep' });
    await limner(['tag', 'in', '--out', 'out'], { cwd });
    const first = NAMES.map((name) => read(cwd, `out/${name}`));
    await limner(['tag', 'in', '--out', 'out'], { cwd });
    expect(NAMES.map((name) => read(cwd, `out/${name}`))).toEqual(first);
    expect(read(cwd, 'out/mine.txt')).toBe('keep');
  });

  it('goes on after a bad file, names it, and ends with 1', async () => {
    const cwd = folderWith({ 'in/a.msa': '', 'in/b.msa': emsaText('TiO2') });
    const { code, stderr } = await limner(['tag', 'in', '--out', 'out'], { cwd });
    expect(code).toBe(1);
    expect(stderr).toMatch(/^limner: a\.msa: [^\n]+\n1 spectrum read into out, 1 not read\n$/);
    expect(read(cwd, 'out/failures.csv')).toMatch(/^file,reason\na\.msa,.+\n$/);
  });

  it('takes from the sheet what else was seen, and which spectra are of known materials', async () => {
    const cwd = folderWith({
      'in/grain.msa': emsaText('PbCrO4', 1),
      'in/standard.msa': emsaText('PbCrO4', 2),
      'in/samples.csv':
        'file,sample,layer,known,colour,isotropy\ngrain.msa,P,1,,yellow,not-looked\nstandard.msa,P,,PbCrO4,,\n',
    });
    expect(await limner(['tag', 'in', '--out', 'out'], { cwd })).toMatchObject({ code: 0 });
    const [grain, standard] = read(cwd, 'out/records.ndjson')
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as LimnerRecord);
    expect(grain.seen?.observations).toEqual([{ property: 'colour', value: 'yellow' }]);
    const ratio = grain.references!.ratios.find(({ numerator }) => numerator === 'Cr')!;
    expect(ratio).toMatchObject({ denominator: 'Pb', by: ['standard.msa'] });
    expect(Math.abs(ratio.value.value - 1)).toBeLessThan(0.1);
    expect(grain.references!.compared).toEqual([{ name: 'standard.msa', label: 'PbCrO4', differing: [] }]);
    expect([standard.seen, standard.references]).toEqual([undefined, undefined]);
  });

  it('reads each file as its row of the sheet states it, counts copies once, and lists what is ruled out when asked', async () => {
    const channels = emsaText('ZnO', 9)
      .replace(/^#XPERCHAN.*\n/m, '#XPERCHAN    : 1\n')
      .replace(/^#XUNITS.*$/m, '#XUNITS      : channels')
      .replace(/^#BEAMKV.*\n/m, '');
    const cwd = folderWith({
      'in/a.msa': emsaText('TiO2'),
      'in/copy.msa': emsaText('TiO2'),
      'in/z.msa': channels,
      'in/samples.csv':
        'file,sample,layer,beam_kev,gain_ev,offset_ev,mount\na.msa,S,1,,,,resin\ncopy.msa,S,1,,,,\nz.msa,S,1,20,40,0,\n',
    });
    const { code, stderr } = await limner(['tag', 'in', '--out', 'out', '--ruled-out'], { cwd });
    expect([code, stderr]).toEqual([
      0,
      'limner: copy.msa: identical to a.msa; counted once\n3 spectra read into out; 1 other file ignored\n',
    ]);
    const records = read(cwd, 'out/records.ndjson')
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as LimnerRecord);
    expect(records.map(({ conditions }) => [conditions.beamKev.value, conditions.mount])).toEqual([
      [20, ['resin']],
      [20, []],
      [20, []],
    ]);
    expect(records[2].elements.find(({ symbol }) => symbol === 'Zn')!.verdict).toBe('present');
    expect(read(cwd, 'out/layers.csv')).toMatch(/^S,1,element,Ti,Ti,1,2$/m);
    expect(read(cwd, 'out/pigments.csv')).toContain(',ruled-out,');
  });

  it('does not read its own results when they lie in the folder', async () => {
    const cwd = folderWith({ 'in/b.msa': emsaText('TiO2') });
    for (let i = 0; i < 2; i++) {
      const { stderr } = await limner(['tag', 'in', '--out', 'in/out'], { cwd });
      expect(stderr).toBe('1 spectrum read into in/out\n');
    }
  });

  it('ends with 3 where nothing could be read', async () => {
    const cwd = folderWith({ 'in/notes.txt': 'nothing', 'bad/a.msa': '', file: '' });
    for (const [folder, message] of [
      ['in', /in: no spectrum found/],
      ['bad', /a\.msa: /],
      ['gone', /gone: there is no such folder/],
      ['file', /file: this is a file, not a folder/],
    ] as const) {
      const { code, stderr } = await limner(['tag', folder, '--out', 'out'], { cwd });
      expect(code).toBe(3);
      expect(stderr).toMatch(message);
    }
  });

  it('keeps the hands off what it did not write', async () => {
    const cwd = folderWith({ ...session, 'out/report.html': '<p>my own report</p>', taken: '' });
    const refused = await limner(['tag', 'in', '--out', 'out'], { cwd });
    expect(refused).toMatchObject({ code: 2, stdout: '' });
    expect(refused.stderr).toMatch(/report\.html: this file is not one of Limner's, so it is kept/);
    expect(readdirSync(join(cwd, 'out'))).toEqual(['report.html']);
    const onFile = await limner(['tag', 'in', '--out', 'taken'], { cwd });
    expect(onFile.code).toBe(2);
    expect(onFile.stderr).toMatch(/a file has that name; give --out another folder/);
  });

  it('tells its progress on a terminal only', async () => {
    const cwd = folderWith({ 'in/b.msa': emsaText('TiO2') });
    const { stderr } = await limner(['tag', 'in', '--out', 'out'], { cwd, terminal: true });
    expect(stderr).toMatch(/^\r\[ +\] 0 of 1/);
    expect((await limner(['tag', 'in', '--out', 'out', '--quiet'], { cwd, terminal: true })).stderr).toBe(
      '1 spectrum read into out\n',
    );
  });

  it('shows no half results when it is interrupted', async () => {
    const cwd = folderWith(session);
    const ended = await limner(['tag', 'in', '--out', 'out'], { cwd, interrupted: () => Promise.resolve() });
    expect(ended).toMatchObject({ code: 130, stdout: '' });
    expect(ended.stderr).toMatch(/^limner: interrupted; the spectra read so far are kept, [^\n]+\n$/);
    expect(shown(join(cwd, 'out'))).toEqual([]);
  });

  it('leaves no half-written results when the disk refuses', async () => {
    const cwd = folderWith(session);
    mkdirSync(join(cwd, 'out/report.html'), { recursive: true });
    writeFileSync(join(cwd, 'out/report.html/x'), '');
    expect((await limner(['tag', 'in', '--out', 'out'], { cwd })).code).toBe(2);
    expect(existsSync(join(cwd, 'out/records.ndjson'))).toBe(false);
  });
});

// Every option of the commands for folders of spectra and references does what is named here.
import type { LimnerRecord } from '@limner/core';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';
import { FILES, offered, proves, readingRows, row, standings, told, type Told } from './fixtures/option-rows.ts';

describe('limner tag', () => {
  const records = ({ cwd }: Told): LimnerRecord[] => {
    const file = join(cwd, 'out/records.ndjson');
    const lines = existsSync(file) ? readFileSync(file, 'utf8').split('\n') : [];
    return lines.filter((line) => line !== '').map((line) => JSON.parse(line) as LimnerRecord);
  };
  const red = ['red', '--out', 'out'];
  const both = ['both', '--out', 'out'];
  proves(
    'tag',
    [
      ...readingRows(red, ['white', '--out', 'out'], (run) => records(run)[0]),
      row(['channels', '--out', 'out'], ['--axis', '40,0'], (run) => records(run).length, 1),
      row(red, ['--out', 'elsewhere'], ({ cwd }) => existsSync(join(cwd, 'elsewhere/report.html')), true),
      row(both, ['--part', '2/2'], ({ stderr }) => stderr.includes('left to other parts'), true),
      row(red, ['--quiet'], ({ stderr }) => stderr.includes('\r'), false),
      row(red, ['--ruled-out'], ({ cwd }) => standings(join(cwd, 'out')).includes('ruled-out'), true),
    ],
    ['--alone', '--workers'],
  );

  const session = Object.fromEntries([1, 2, 3, 4].map((seed) => [`in/${seed}.msa`, emsaText('TiO2', seed)]));
  const shared = (run: Told) => records(run).map(({ axis }) => axis.shared?.spectra ?? null);
  const tagged = (...argv: string[]) => told(['tag', 'in', '--out', 'out', ...argv], session);

  it('--workers changes how fast, never what; --alone shares no instrument', async () => {
    const [one, two] = [await tagged('--workers', '1'), await tagged('--workers', '2')];
    expect(shared(one)).toEqual([3, 3, 3, 3]);
    expect(records(two)).toEqual(records(one));
    expect(shared(await tagged('--alone'))).toEqual([null, null, null, null]);
    expect(await tagged('--workers', '0')).toMatchObject({ code: 2, stdout: '' });
  });
});

describe('limner sheet', () => {
  const rows = ({ cwd }: Told) => readFileSync(join(cwd, 'sheeted/samples.csv'), 'utf8').split('\n')[0];
  proves('sheet', [
    row(['both'], ['--out', '-'], ({ stdout }) => stdout.split('\n').length, 4),
    row(['sheeted'], ['--force'], rows, expect.stringMatching(/^file,sample,layer/)),
  ]);
});

describe('limner merge', () => {
  it('--out says where the joined results go, --ruled-out lists what spectra rule out, no other option', async () => {
    const cwd = folderWith(FILES);
    for (const k of [1, 2]) await limner(['tag', 'both', '--out', `p${k}`, '--part', `${k}/2`], { cwd });
    for (const out of ['here', 'there']) {
      expect(await limner(['merge', 'p1', 'p2', '--out', out], { cwd })).toMatchObject({ code: 0 });
      expect(existsSync(join(cwd, out, 'records.ndjson'))).toBe(true);
    }
    expect(standings(join(cwd, 'here'))).not.toContain('ruled-out');
    await limner(['merge', 'p1', 'p2', '--out', 'all', '--ruled-out'], { cwd });
    expect(standings(join(cwd, 'all'))).toContain('ruled-out');
    expect(await offered('merge')).toEqual(['--out', '--ruled-out']);
  });
});

describe('limner reference add', () => {
  const sheet = ({ cwd }: Told) => readFileSync(join(cwd, 'references/samples.csv'), 'utf8');
  const white = ['reference', 'add', 'white.msa', '--is', 'TiO2'];
  it('--is says what it is, --to where it is kept', async () => {
    expect(sheet(await told(white))).toBe('file,sample,layer,known,note\nwhite.msa,reference,,TiO2,\n');
    const { cwd } = await told([...white, '--to', 'kept']);
    expect(readFileSync(join(cwd, 'kept/samples.csv'), 'utf8')).toMatch(
      /^red\.msa.*HgS\nwhite\.msa,reference,,TiO2\n$/m,
    );
    expect(readFileSync(join(cwd, 'kept/white.msa'), 'utf8')).toBe(FILES['white.msa']);
  });

  it('--force adds what contradicts its label', async () => {
    const wrong = ['reference', 'add', 'white.msa', '--is', 'HgS'];
    const refused = await told(wrong);
    expect(refused).toMatchObject({ code: 2, stdout: '' });
    expect(refused.stderr).toMatch(/mercury is not seen[^]*its counts contradict 'HgS'/i);
    expect(existsSync(join(refused.cwd, 'references'))).toBe(false);
    expect(sheet(await told([...wrong, '--force']))).toMatch(/white\.msa,reference,,HgS/);
  });

  it('refuses a name that is taken, and what is no composition', async () => {
    expect(await told(['reference', 'add', 'red.msa', '--is', 'HgS', '--to', 'kept'])).toMatchObject({ code: 2 });
    expect((await told(['reference', 'add', 'white.msa', '--is', 'TiO2 9'])).stderr).toMatch(/--is TiO2 9: .*100/);
  });
});

it('limner show takes what tag takes for a reading, and nothing else', async () => {
  const tag = await offered('tag');
  const show = await offered('show');
  expect(show.filter((option) => !tag.includes(option))).toEqual([]);
  expect(show).toEqual(expect.arrayContaining(['--out', '--beam', '--axis', '--mount', '--claim', '--without']));
});

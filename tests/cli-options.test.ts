// Every option that a command offers changes what the command says, in the way named here; every other option is refused.
// A simulated spectrum keeps its command as a comment, so what is compared is always a part that the option is about.
import { type LimnerRecord, readSpectrum, simulate, type Spectrum, writeEmsa } from '@limner/core';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { limner, type Ran } from './fixtures/cli.ts';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

interface Told extends Ran {
  readonly cwd: string;
}

interface Row {
  readonly option: string;
  /** Arguments before the option, in both runs. */
  readonly base: readonly string[];
  readonly given: readonly string[];
  readonly part: (told: Told) => unknown;
  /** What that part is with the option, and is not without it; left out where it is enough that it changes. */
  readonly becomes?: unknown;
}

/** A short row: the option's name is the first word given. */
const row = (base: readonly string[], given: readonly string[], part: Row['part'], becomes?: unknown): Row => ({
  option: given[0],
  base,
  given,
  part,
  becomes,
});

const inChannels = emsaText('TiO2')
  .replace('#XUNITS      : eV', '#XUNITS      : channel')
  .replace('#XPERCHAN    : 20', '#XPERCHAN    : 1');
/** Chalk with 0.25 % copper: too little to ask about, unless the mounting may bring copper. */
const trace = simulate(
  {
    composition: [
      { formula: 'CaCO3', massFraction: 0.9975 },
      { formula: 'Cu', massFraction: 0.0025 },
    ],
  },
  { beamKev: 20, totalCounts: 2e4, seed: 1 },
);
const FILES = {
  'red.msa': emsaText('HgS'),
  'white.msa': emsaText('TiO2'),
  'trace.msa': writeEmsa(trace),
  'red/a.msa': emsaText('HgS'),
  'white/a.msa': emsaText('TiO2'),
  'both/a.msa': emsaText('HgS'),
  'both/b.msa': emsaText('TiO2'),
  'channels/c.msa': inChannels,
  'mine.csv':
    'id,name,class,composition,required,composition_source\ninvented-red,Invented red,pigment,HgS,Hg S,own notes\n',
  'kept/samples.csv': 'file,sample,layer,known\nred.msa,reference,,HgS\n',
  'kept/red.msa': emsaText('HgS', 7),
  'there.msa': 'something else',
  'sheeted/a.msa': emsaText('HgS'),
  'sheeted/samples.csv': 'file\na.msa\n',
};

/** Runs a command in a folder of these files, on a terminal, so that progress would show. */
async function told(
  argv: readonly string[],
  files: Readonly<Record<string, string>> = FILES,
  atEnd?: (remove: () => void) => void,
): Promise<Told> {
  const cwd = folderWith(files, atEnd);
  return { ...(await limner(argv, { cwd, terminal: true })), cwd };
}

/** @param plain what the command tells without the option */
async function works(plain: Told, command: string, { base, given, part, becomes }: Row) {
  const changed = await told([command, ...base, ...given]);
  expect(changed.code, changed.stderr).toBe(0);
  if (becomes !== undefined) expect(part(changed)).toEqual(becomes);
  expect(part(plain)).not.toEqual(becomes ?? part(changed));
}

/** Options that a command's help names. */
async function offered(command: string): Promise<string[]> {
  const { stdout } = await limner([command, '--help']);
  return [...stdout.matchAll(/^ {2}(--[a-z-]+)/gm)].map(([, name]) => name).filter((name) => name !== '--help');
}

/** Each option in its row, and a row for each option. */
function proves(command: string, rows: readonly Row[], apart: readonly string[] = []): void {
  // What a command tells without the option is asked once for all rows of the same arguments.
  const plain = new Map<string, Promise<Told>>();
  const removals: (() => void)[] = [];
  const asked = ({ base }: Row): Promise<Told> => {
    const key = base.join(' ');
    const known = plain.get(key) ?? told([command, ...base], FILES, (remove) => removals.push(remove));
    plain.set(key, known);
    return known;
  };
  afterAll(() => removals.forEach((remove) => remove()));
  it.each(rows)('$option', async (one) => works(await asked(one), command, one));
  it('no other option', async () => {
    const named = [...new Set(rows.map(({ option }) => option)), ...apart].sort();
    expect(named.filter((option) => option !== '--kev')).toEqual((await offered(command)).sort());
  });
}

/** The JSON that was printed; null where nothing was. */
const json = <Kind>({ stdout }: Told): Kind => JSON.parse(stdout === '' ? 'null' : stdout) as Kind;
const isJson = ({ stdout }: Told): boolean => stdout.startsWith('{') || stdout.startsWith('[');

/** What the options of every reading do to a record. */
function readingRows(red: readonly string[], white: readonly string[], recordOf: (told: Told) => LimnerRecord): Row[] {
  const element = (symbol: string, record: LimnerRecord) => record.elements.find((one) => one.symbol === symbol);
  return [
    row(red, ['--beam', '18'], (run) => recordOf(run).conditions.beamKev, { value: 18, origin: 'option' }),
    row(red, ['--mount', 'copper-tape'], (run) => element('Cu', recordOf(run))?.origin, 'either'),
    row(red, ['--claim', 'Cu'], (run) => recordOf(run).claims.map(({ symbol, answer }) => `${symbol} ${answer}`), [
      'Cu cannot-tell',
    ]),
    row(
      red,
      ['--claim', 'Cu=50%,Hg=0.8'],
      (run) => recordOf(run).claims.map(({ symbol, massFraction, answer }) => ({ symbol, massFraction, answer })),
      [
        { symbol: 'Cu', massFraction: 0.5, answer: 'contradicted' },
        { symbol: 'Hg', massFraction: 0.8, answer: 'supported' },
      ],
    ),
    row(red, ['--without', 'S'], (run) => recordOf(run).without?.symbols, ['S']),
    // TiO2 by the atomic masses of titanium and oxygen (47.867 and 15.999, CIAAW): 40.1 % oxygen.
    row(white, ['--oxygen', 'oxides'], (run) => element('O', recordOf(run))?.massFraction?.value.toFixed(3), '0.401'),
    row(white, ['--dated', '1650'], (run) => (recordOf(run).statedDate?.questions.length ?? 0) > 0, true),
    row(red, ['--references', 'kept'], (run) => recordOf(run).references?.ratios[0]?.by.length, 1),
    row(red, ['--pigments', 'mine.csv'], (run) => recordOf(run).pigments.some(({ id }) => id === 'invented-red'), true),
  ];
}

describe('limner identify', () => {
  const record = json<LimnerRecord>;
  const said = (run: Told) => record(run).brightness.said.map(({ order, name }) => `${order} ${name}`);
  const red = ['red.msa', '--json'];
  proves('identify', [
    ...readingRows(red, ['white.msa', '--json'], record),
    row(
      ['channels/c.msa', '--json'],
      ['--axis', '20,0'],
      (run) => json<LimnerRecord | null>(run)?.axis.header.gainEv,
      20,
    ),
    row(red, ['--brighter-than', 'white.msa'], said, ['brighter-than white.msa']),
    row(red, ['--darker-than', 'white.msa'], said, ['darker-than white.msa']),
    row(red, ['--seen', 'colour=red,uv=not-looked'], (run) => record(run).seen?.observations, [
      { property: 'colour', value: 'red' },
    ]),
    row(['red.msa'], ['--full'], ({ stdout }) => stdout.includes('Ledger of all counts'), true),
    row(['red.msa'], ['--json'], isJson, true),
  ]);

  it('--axis for a file that has its own is a warning', async () => {
    const run = await told(['identify', ...red, '--axis', '5,0']);
    expect(record(run).warnings.map(({ code }) => code)).toContain('axis-option-unused');
  });
});

describe('limner plan', () => {
  interface Plan {
    readonly beamKev: { readonly value: number; readonly origin: string };
    readonly present: readonly string[];
    readonly questions: readonly {
      readonly symbol: string;
      readonly why: string;
      readonly massFraction: number;
      readonly reach: object | null;
    }[];
    readonly warnings: readonly string[];
  }
  const plan = json<Plan>;
  const asked = (run: Told) => plan(run).questions.map(({ symbol, why }) => `${symbol} ${why}`);
  const red = ['red.msa', '--json'];
  proves('plan', [
    row(red, ['--beam', '18'], (run) => plan(run).beamKev, { value: 18, origin: 'option' }),
    row(
      ['channels/c.msa', '--json'],
      ['--axis', '20,0'],
      (run) => json<Plan | null>(run)?.present.includes('Ti'),
      true,
    ),
    row(['trace.msa', '--json'], ['--mount', 'copper-tape'], asked, ['Cu open']),
    row(red, ['--claim', 'Cu'], asked, expect.arrayContaining(['Cu claimed'])),
    row(
      red,
      ['--claim', 'Cu=25%'],
      (run) =>
        plan(run)
          .questions.find(({ symbol }) => symbol === 'Cu')
          ?.massFraction.toFixed(6),
      '0.250000',
    ),
    row(red, ['--without', 'Hg,S'], asked, expect.arrayContaining(['Hg barred'])),
    row([...red, '--claim', 'Hg'], ['--grain', '3@8'], (run) => plan(run).questions.some(({ reach }) => reach), true),
    row(['red.msa'], ['--json'], isJson, true),
  ]);

  it('--axis for a file that has its own is a warning', async () => {
    expect(plan(await told(['plan', ...red, '--axis', '5,0'])).warnings.join()).toMatch(/axis of its own/);
  });

  it('--claim of what no such spectrum shows is a warning', async () => {
    expect(plan(await told(['plan', ...red, '--claim', 'H'])).warnings.join()).toMatch(/^H is not among/);
  });

  it('--without of what the explanation does not use is a warning', async () => {
    expect(plan(await told(['plan', ...red, '--without', 'Cu'])).warnings.join()).toMatch(/does not use Cu/);
  });
});

/** What the tables of results say of how materials stand. */
const standings = (folder: string): string => readFileSync(join(folder, 'pigments.csv'), 'utf8');

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
      row(['channels', '--out', 'out'], ['--axis', '20,0'], (run) => records(run).length, 1),
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

describe('limner simulate', () => {
  const spectrum = ({ stdout }: Told): Spectrum => readSpectrum(new TextEncoder().encode(stdout));
  const counts = (run: Told) => [...spectrum(run).counts];
  const sum = (run: Told) => Math.round(counts(run).reduce((total, count) => total + count, 0));
  const exact = ['PbCO3@6.6', '--no-noise'];
  const dose = [...exact, '--live', '50', '--solid-angle', '0.01', '--current', '0.5'];
  const there = ({ cwd }: Told) => readFileSync(join(cwd, 'there.msa'), 'utf8').startsWith('#FORMAT');
  proves('simulate', [
    // Pb L3-M5, 10.55 keV.
    row(exact, ['--beam', '10'], (run) => counts(run)[1055] > 100, false),
    row(exact, ['--counts', '5000'], sum, 5000),
    row(exact, ['--live', '50'], (run) => spectrum(run).liveTimeS, 50),
    row(dose, ['--current', '1'], sum),
    row(dose, ['--solid-angle', '0.02'], sum),
    row(exact, ['--coat', 'gold:10'], counts),
    row(exact, ['--film', '0.2'], counts),
    row([...exact, '--film', '0.2'], ['--on', 'silicon'], counts),
    row(exact, ['--grain', '2'], counts),
    row([...exact, '--grain', '2'], ['--in', 'glass'], counts),
    row(exact, ['--take-off', '20'], counts),
    row(exact, ['--detector', 'drift-open'], counts),
    row(exact, ['--resolution', '150'], counts),
    row([...exact, '--live', '10'], ['--resolving', '2000'], counts),
    row(exact, ['--zero-peak', '1e5'], counts),
    row(exact, ['--axis', '5,-100'], (run) => spectrum(run).axis, { gainEv: 5, offsetEv: -100 }),
    row(exact, ['--channels', '512'], (run) => counts(run).length, 512),
    row(['PbCO3'], ['--seed', '2'], counts),
    row(['PbCO3'], ['--no-noise'], (run) => counts(run).every(Number.isInteger), false),
    row(exact, ['--title', 'An invented grain'], (run) => spectrum(run).title, 'SIMULATED An invented grain'),
    row(exact, ['--out', 'new.msa'], ({ cwd }) => existsSync(join(cwd, 'new.msa')), true),
    row(exact, ['--blind'], ({ stdout }) => stdout.includes('PbCO3'), false),
    row([...exact, '--out', 'there.msa'], ['--force'], there, true),
  ]);
});

describe('limner lines', () => {
  const names = (run: Told) => json<{ symbol: string; line: string }[]>(run).map(({ symbol, line }) => symbol + line);
  const near = ['--near', '2.35keV', '--json'];
  proves('lines', [
    row(['Pb', '--json'], ['--near', '2.35keV'], names),
    row(near, ['--within', '5eV'], names),
    row(['--near', '2.35keV', '--json'], ['--beam', '3keV'], names),
    row(['Pb'], ['--full'], ({ stdout }) => stdout.includes('of the subshell:'), false),
    row(['Pb'], ['--json'], isJson, true),
  ]);
});

describe('limner clash', () => {
  const beam = (run: Told) => json<{ beamKev: number }>(run).beamKev;
  const excited = (run: Told) => json<{ settling: { excited: boolean }[] }>(run).settling.map((line) => line.excited);
  const sigmas = (run: Told) => json<{ questions: { sigma: number }[] }>(run).questions.map(({ sigma }) => sigma);
  const pair = ['Pb', 'S', '--json'];
  proves('clash', [
    row(pair, ['--beam', '10'], excited),
    row(pair, ['--kev', '10'], beam, 10),
    row(['Pb', 'Bi'], ['--full'], ({ stdout }) => stdout),
    row(pair, ['--resolution', '150'], sigmas),
    row(pair, ['--counts', '1000'], sigmas),
    row(pair, ['--amounts', 'S=0.1'], sigmas),
    row([], ['--all'], ({ stdout }) => stdout.includes('known from paint'), true),
    row(['--all'], ['--within', '10eV'], ({ stdout }) => stdout),
    row(['--all'], ['--out', 'chart.svg'], ({ cwd }) => existsSync(join(cwd, 'chart.svg')), true),
    row(['--all', '--out', 'chart.svg'], ['--paper', 'A3'], ({ cwd }) => readFileSync(join(cwd, 'chart.svg'), 'utf8')),
    row(['Pb', 'S'], ['--json'], isJson, true),
  ]);
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

describe('refused with exit code 2, one line and nothing done', () => {
  const refused = (run: Told, message: RegExp): void => {
    expect({ code: run.code, stdout: run.stdout }).toEqual({ code: 2, stdout: '' });
    expect(run.stderr).toMatch(message);
    expect(run.stderr).toMatch(/^limner: [^\n]+\n$/);
  };
  const COMMANDS: Readonly<Record<string, readonly string[]>> = {
    identify: ['red.msa'],
    plan: ['red.msa'],
    tag: ['red', '--out', 'out'],
    simulate: ['PbCO3'],
    lines: ['Pb'],
    clash: ['Pb', 'S'],
    sheet: ['both'],
    merge: ['red', '--out', 'out'],
    show: ['red.msa'],
  };

  it.each(Object.entries(COMMANDS))('limner %s: what only other commands offer', async (command, base) => {
    const own = await offered(command);
    const all = await Promise.all(Object.keys(COMMANDS).map(offered));
    for (const option of new Set(all.flat().filter((name) => !own.includes(name))))
      refused(await told([command, ...base, option]), new RegExp(`unknown option '${option}'`));
  });

  it.each<[string[], RegExp]>([
    [['identify', 'red.msa', '--seen', 'colour=bleu'], /--seen: colour: 'bleu' is not one of/],
    [['identify', 'red.msa', '--references', 'red'], /red: no reference here; 'reference add'/],
    [['plan', 'red.msa', '--claim', 'Xx'], /'Xx' is not an element symbol/],
    [['lines', 'Pb', '--within', '60eV'], /--within needs --near/],
    [['clash', 'Pb', 'S', '--beam', '10', '--kev', '20'], /'--kev <KEV>' cannot be used with option '--beam <KEV>'/],
    [['sheet', 'both', '--out', '-', '--force'], /--force replaces a file/],
    [['simulate', 'PbCO3', '--force'], /--force replaces a file/],
    [['simulate', 'PbCO3', '--out', '-', '--force'], /--force replaces a file/],
    [['simulate', 'PbCO3', '--on', 'silicon'], /--on needs --film/],
    [['simulate', 'PbCO3', '--in', 'oil'], /--in needs --grain/],
    [['simulate', 'PbCO3@6.6', '--film', '1', '--grain', '2'], /give --film or --grain, not both/],
    [['simulate', 'PbCO3', '--resolving', '300'], /--resolving needs a count rate/],
    [['simulate', 'PbCO3', '--current', '1'], /give --counts, or all of --live/],
    [['simulate', 'PbCO3', '--no-noise', '--seed', '2'], /give --seed or --no-noise, not both/],
  ])('%j', async (argv, message) => refused(await told(argv), message));
});

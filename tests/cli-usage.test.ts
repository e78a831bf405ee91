import { describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';

describe('help and version', () => {
  it('are printed to standard output with exit code 0', async () => {
    const help = await limner(['--help']);
    expect(help).toMatchObject({ code: 0, stderr: '' });
    for (const word of [
      'identify',
      'lines',
      'tag',
      'merge',
      'sheet',
      'clash',
      'simulate',
      'exercise',
      'teach',
      'show',
      'Exit codes',
    ])
      expect(help.stdout).toContain(word);
    expect(await limner(['--version'])).toEqual({ code: 0, stdout: '0.2.0\n', stderr: '' });
  });

  it.each(['identify', 'lines', 'tag', 'merge', 'sheet', 'clash', 'simulate', 'exercise', 'teach', 'show'])(
    'of %s hold an example',
    async (command) => {
      const { code, stdout } = await limner([command, '--help']);
      expect(code).toBe(0);
      expect(stdout).toMatch(new RegExp(`Examples?:\\n +(PORT=\\d+ )?limner ${command} `));
    },
  );
});

it('names itself as it was called, in help and in hints', async () => {
  const command = 'npx limner';
  const help = await limner(['plan', '--help'], { command });
  expect(help.stdout).toMatch(/^Usage: npx limner plan \[options\] <file>/);
  expect(help.stdout).toContain('Example:\n  npx limner plan grain-07.msa');
  expect((await limner([], { command })).stderr).toContain("'npx limner --help' lists them");
  const { stdout } = await limner(['identify', 'data/demo/P1-L1-g01.msa'], { command });
  const told = stdout.replace(/\s+/g, ' ');
  expect(told).toContain('npx limner identify FILE --full prints');
  expect(told).toContain('npx limner plan FILE proposes');
});

describe('wrong usage', () => {
  it.each([
    [[], /no command was given; 'limner --help'/],
    [['identfy', 'x.msa'], /unknown command 'identfy'.*identify/],
    [['identify'], /missing required argument 'file'/],
    [['identify', '--jsn', 'x.msa'], /unknown option '--jsn'.*--json/],
    [['identify', 'x.msa', '--beam', 'twenty'], /--beam twenty: not an energy/],
    [['identify', 'x.msa', '--beam', '0'], /--beam 0: a beam energy lies between/],
    [['identify', 'x.msa', '--beam', '20000'], /--beam 20000: a beam energy lies between/],
    [['identify', 'x.msa', '--beam'], /'--beam <KEV>' argument missing/],
    [['identify', 'x.msa', '--axis', '10'], /--axis 10: give eV per channel and the energy of channel 0/],
    [['identify', 'x.msa', '--axis', '0.01,-0.2'], /--axis 0\.01,-0\.2: eV per channel must lie between/],
    [['identify', 'x.msa', '--axis', '10,NaN'], /--axis 10,NaN: give eV/],
    [['identify', 'x.msa', '--claim', 'Pb,Xx'], /--claim: 'Xx' is not an element symbol/],
    [['identify', 'x.msa', '--claim', 'pb'], /did you mean Pb\?/],
    [['identify', 'x.msa', '--claim', 'pb=10%'], /did you mean Pb\?/],
    [
      ['identify', 'x.msa', '--claim', 'Pb='],
      /--claim Pb=: '' is not a content by mass; write it like Pb=10% or Pb=0\.1/,
    ],
    [['identify', 'x.msa', '--claim', 'Pb=some'], /--claim Pb=some: 'some' is not a content by mass/],
    [['identify', 'x.msa', '--claim', 'Pb=1=2'], /--claim Pb=1=2: '1=2' is not a content by mass/],
    [['identify', 'x.msa', '--claim', 'Pb=10'], /--claim Pb=10: that is 1000 %, but a content lies above 0/],
    [['identify', 'x.msa', '--claim', 'Pb=0%'], /--claim Pb=0%: that is 0 %, but a content lies above 0/],
    [['identify', 'x.msa', '--claim', 'Pb=-5%'], /--claim Pb=-5%: that is -5 %, but a content lies above 0/],
    [['plan', 'x.msa', '--claim', 'Pb,Pb=10%'], /--claim Pb,Pb=10%: Pb is claimed twice; give each element once/],
    [['identify', 'x.msa', '--without', 'Pb,,Sn'], /--without Pb,,Sn: an entry is empty/],
    [
      ['identify', 'x.msa', '--mount', 'moonstone'],
      /'moonstone' is not a known mounting; use one or more of .*carbon-stub/,
    ],
    [['identify', '-', '-'], /standard input .* only once/],
    [['lines'], /give an element, like Pb, or an energy/],
    [['lines', 'Xx'], /'Xx' is not an element symbol/],
    [['lines', 'Pb', 'Sn'], /too many arguments/],
    [['lines', '--near', '2350'], /that is 2350 keV.*a number without a unit is in keV/],
    [['lines', '--near', '2.35MeV'], /not an energy; write it like 2\.35keV/],
    [['lines', '--near', '1.2.3keV'], /not an energy/],
    [['lines', '--near', '2keV', '--within', '-5eV'], /--within -5eV/],
    [['clash', 'Pb'], /give two elements or more/],
    [['teach'], /give either --out and a new folder, or --serve/],
    [['teach', '--serve', '--out', 'room'], /give either --out and a new folder, or --serve/],
    [['teach', '--out', 'room', '--to-room', '127.0.0.1'], /--to-room goes with --serve/],
    // Addresses kept for documentation (RFC 5737), which no machine has.
    [['teach', '--serve', '--to-room', '192.0.2.7'], /--to-room 192\.0\.2\.7: give one of this machine's addresses/],
    [['teach', '--serve', '--to-room', '0.0.0.0'], /--to-room 0\.0\.0\.0: give one of this machine's addresses/],
    [['teach', '--serve', '--to-room', 'classroom'], /--to-room classroom: give one of this machine's addresses/],
    [['clash', 'Pb', 'Pb'], /Two different elements/],
    [['clash', 'Pb', 'lead'], /Two different elements/],
    [['clash', 'Pb', 'leed'], /'leed' is not an element symbol/],
    [
      ['clash', 'Pb', 'S', '--resolution', '60'],
      /resolution is 60 eV; a silicon detector without any noise has 118.8 eV/,
    ],
    [['clash', 'Pb', 'S', '--amounts', 'Bi=2'], /Bi is not one of the elements asked about/],
    [['clash', 'Pb', 'S', '--beam', '200'], /covers 1 to 50 keV/],
    [['clash', 'Pb', 'S', '--kev', 'abc'], /--kev abc: not an energy/],
    [['clash', 'H', 'Pb'], /No line of H/],
    [['tag', 'here'], /required option '--out <FOLDER>' not specified/],
  ])('%j gives exit code 2, one line on standard error and nothing else', async (argv, message) => {
    const { code, stdout, stderr } = await limner(argv);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(message);
    expect(stderr).toMatch(/^limner: [^\n]+\n$/);
  });

  it('names a PORT that is none', async () => {
    const { code, stderr } = await limner(['show'], { env: { PORT: '80x' } });
    expect({ code, stderr }).toEqual({
      code: 2,
      stderr: 'limner: PORT=80x: a port is a whole number from 0 to 65535\n',
    });
  });
});

import { type LimnerRecord, readSpectrum, simulate, writeEmsa, type Spectrum } from '@limner/core';
import fc from 'fast-check';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { folderWith } from './fixtures/folder.ts';

const read = (text: string): Spectrum => readSpectrum(new TextEncoder().encode(text));
const sum = ({ counts }: Spectrum): number => counts.reduce((a, b) => a + b, 0);
const entries = ({ header }: Spectrum, key: string): string[] =>
  header.filter((entry) => entry.key === key).map(({ value }) => value);
const simulated = async (...argv: string[]): Promise<Spectrum> => {
  const { code, stdout, stderr } = await limner(['simulate', ...argv]);
  expect(code, stderr).toBe(0);
  return read(stdout);
};

describe('limner simulate', () => {
  it('writes an EMSA/MAS file that says it is simulated, and the same one each time', async () => {
    const argv = ['simulate', 'HgS=30', '2PbCO3*Pb(OH)2=70', '--seed', '7'];
    const { code, stdout, stderr } = await limner(argv);
    expect(code).toBe(0);
    expect(stdout.startsWith('#FORMAT      : EMSA/MAS Spectral Data File\r\n')).toBe(true);
    const spectrum = read(stdout);
    expect(spectrum.warnings).toEqual([]);
    expect(spectrum).toMatchObject({ beamKev: 20, takeOffDeg: 40, title: 'SIMULATED HgS=30 2PbCO3*Pb(OH)2=70' });
    expect(entries(spectrum, '##LIMNER-ORIGIN')).toEqual(['simulated']);
    expect(entries(spectrum, 'COMMENT')[0]).toBe('Simulated, not measured: Poisson noise, seed 7');
    expect(Math.abs(sum(spectrum) - 250_000)).toBeLessThan(5 * 500);
    expect(stderr).toMatch(
      /^Simulated, not measured: no evidence about any object\.\n {2}Composition, % by mass: Pb 5/,
    );
    expect((await limner(argv)).stdout).toBe(stdout);
  });

  it('leaves its recipe out where it is asked to, and is committed to it', async () => {
    const argv = ['simulate', 'HgS=30', 'PbCO3=70', '--seed', '7712'];
    const open = await limner(argv);
    const blind = await limner([...argv, '--blind']);
    const spectrum = read(blind.stdout);
    expect([...spectrum.counts]).toEqual([...read(open.stdout).counts]);
    expect(blind.stdout).not.toMatch(/Hg|Pb|7712|BODY|SEED|Made by/);
    const key = /^Key [^:]*: (.*)$/m.exec(blind.stderr)![1];
    expect(key).toBe('limner simulate HgS=30 PbCO3=70 --seed 7712');
    expect(entries(spectrum, '##LIMNER-COMMITMENT')).toEqual([
      `sha256 ${createHash('sha256').update(key).digest('hex')}`,
    ]);
    expect(spectrum.title).toMatch(/^SIMULATED exercise [0-9a-f]{8}$/);
    expect(entries(spectrum, '##LIMNER-ORIGIN')).toEqual(['simulated']);
  });

  it('is read back by identify, which finds what went in', async () => {
    const { stdout } = await limner(['simulate', 'lead-white=70', 'vermilion=30']);
    const read = await limner(['identify', '-', '--json'], { stdin: stdout });
    expect(read.code).toBe(0);
    const { elements } = JSON.parse(read.stdout) as LimnerRecord;
    const present = elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
    expect(present).toEqual(expect.arrayContaining(['Pb', 'Hg', 'O']));
  });

  it('repeats itself by the command in its header', async () => {
    const argv = ['PbO=2@9.5', 'SiO2=1@2.6'];
    const first = await limner([
      'simulate',
      ...argv,
      '--grain',
      '4',
      '--in',
      'oil',
      '--coat',
      'carbon:15',
      '--title',
      "it's  a 'grain'",
      '--no-noise',
    ]);
    expect(first.code, first.stderr).toBe(0);
    const command = entries(read(first.stdout), 'COMMENT').at(-1)!.replace('Made by: limner ', '');
    const words = [...command.matchAll(/'((?:[^']|'\\'')*)'(?=\s|$)|(\S+)/g)].map(
      ([, quoted, plain]) => plain ?? quoted.replaceAll(String.raw`'\''`, "'"),
    );
    expect((await limner(words)).stdout).toBe(first.stdout);
  });

  it('gives expected counts without noise, as exactly as core has them', async () => {
    const spectrum = await simulated('CaSO4.2H2O', '--no-noise', '--counts', '1e5', '--beam', '15');
    const same = simulate({ composition: 'CaSO4*2H2O' }, { beamKev: 15, totalCounts: 1e5, seed: null });
    expect(spectrum.counts).toEqual(same.counts);
    expect(Math.abs(sum(spectrum) / 1e5 - 1)).toBeLessThan(1e-8);
    expect(spectrum.counts.some((count) => !Number.isInteger(count))).toBe(true);
  });

  it('takes live time, current and solid angle in place of counts, with pile-up by their rate', async () => {
    const dose = ['Cu', '--no-noise', '--live', '100', '--solid-angle', '0.01'];
    const [weak, strong] = await Promise.all(['0.1', '1'].map((current) => simulated(...dose, '--current', current)));
    expect(weak).toMatchObject({ liveTimeS: 100, probeCurrentNa: 0.1 });
    // Ten times the photons, less those lost in sums; two K-alpha photons, at 16.1 keV, go with the square of the rate.
    expect(sum(strong) / sum(weak)).toBeGreaterThan(9.8);
    expect(sum(strong) / sum(weak)).toBeLessThan(10);
    const sums = async (current: string, resolving: string): Promise<number> => {
      const [slow, fast] = await Promise.all(
        [resolving, '1'].map((ns) => simulated(...dose, '--current', current, '--resolving', ns)),
      );
      return slow.counts[1609] - fast.counts[1609];
    };
    const usual = await sums('1', '300');
    expect(Math.abs(usual / (await sums('0.1', '300')) / 100 - 1)).toBeLessThan(0.05);
    expect(Math.abs((await sums('1', '600')) / usual / 2 - 1)).toBeLessThan(0.05);
    expect(strong.realTimeS! / strong.liveTimeS!).toBeGreaterThan(weak.realTimeS! / weak.liveTimeS!);
  });

  it('sets detector, resolution, axis and channels', async () => {
    const width = async (...argv: string[]): Promise<number> => {
      const { counts, axis } = await simulated('Mn', '--no-noise', ...argv);
      const [lo, hi] = [5700, 6100].map((ev) => Math.round((ev - axis.offsetEv) / axis.gainEv));
      const peak = counts.slice(lo, hi);
      return peak.filter((count) => count > Math.max(...peak) / 2).length * axis.gainEv;
    };
    const fine = ['--axis', '1,-100', '--channels', '8192'];
    // Mn K-L2 and K-L3 lie 11 eV apart and are 2.5 eV wide each.
    expect(Math.abs((await width(...fine, '--resolution', '140')) - 141)).toBeLessThan(2.5);
    expect(Math.abs((await width(...fine)) - 130)).toBeLessThan(2.5);
    const soft = async (detector: string): Promise<number> => {
      const { counts } = await simulated('SiO2', '--no-noise', '--beam', '10', '--detector', detector);
      return counts[52] / counts[174]; // O K over Si K
    };
    expect(await soft('drift-open')).toBeGreaterThan(1.3 * (await soft('drift-polymer')));
    expect(await soft('lithium-beryllium')).toBeLessThan(0.02 * (await soft('drift-polymer')));
    const zero = await simulated('Mn', '--no-noise', '--axis', '10,-200', '--zero-peak', '1e5');
    expect(zero.counts.indexOf(Math.max(...zero.counts.subarray(0, 40)))).toBe(20);
  });

  it('puts a coat on it, a film on something, a grain in something', async () => {
    const plain = await simulated('CaCO3', '--no-noise');
    const gold = await simulated('CaCO3', '--no-noise', '--coat', 'gold:10');
    expect(gold.counts[212]).toBeGreaterThan(1.5 * plain.counts[212]); // Au M-alpha, 2.12 keV
    const film = await simulated('CaCO3@2.7', '--no-noise', '--film', '0.2', '--on', 'silicon');
    expect(film.counts[174]).toBeGreaterThan(film.counts[369]); // Si K over Ca K
    const grain = await simulated('CaCO3@2.7', '--no-noise', '--grain', '2', '--in', 'HgS@8.1');
    expect(grain.counts[220]).toBeGreaterThan(plain.counts[220] * 1.5); // Hg M-alpha, 2.195 keV
    expect(grain.counts[369]).toBeGreaterThan(100);
  });

  it('says how far the electrons go, and when they would stay inside', async () => {
    const told = async (...argv: string[]): Promise<string> =>
      (await limner(['simulate', ...argv])).stderr.replace(/\s+/g, ' ');
    // Kanaya and Okayama, iron at 20 keV: 0.0276 55.85 20^1.67 / (26^0.889 7.87) = 1.61 um = 1.27 mg/cm2.
    expect(await told('Fe')).toMatch(/Electrons of 20 keV reach 1\.3 mg\/cm2/);
    expect(await told('PbO')).toMatch(
      /Depths above which 99 % of the recorded photons originate, mg\/cm2: Pb M5-N7 \(Mα1\) 0\.\d+, O K-L3 \(Kα1\) 0\.\d+\./,
    );
    expect(await told('Fe@7.87', '--grain', '2')).toMatch(
      /reach 1\.6 µm .* the cut grain is 1\.0 µm deep: some leave it.* At 15 keV they would stay inside/,
    );
    expect(await told('Fe@7.87', '--grain', '2', '--beam', '14.9')).toMatch(/they stay inside\./);
    expect(await told('Fe@7.87', '--film', '1')).toMatch(/the film has 0\.79: some leave it/);
  });

  it('writes to a file, whole, and never over another unless asked', async () => {
    const cwd = folderWith({ 'there.msa': 'keep me' });
    const argv = ['simulate', 'PbO', '--channels', '64', '--out'];
    const first = await limner([...argv, 'new.msa'], { cwd });
    expect(first).toMatchObject({ code: 0, stdout: '' });
    expect(read(readFileSync(join(cwd, 'new.msa'), 'utf8')).counts).toHaveLength(64);
    expect((await limner([...argv, '-'], { cwd })).stdout).toMatch(/^#FORMAT/);
    const kept = await limner([...argv, 'there.msa'], { cwd });
    expect(kept).toMatchObject({ code: 2, stdout: '' });
    expect(kept.stderr).toMatch(/^limner: there\.msa: the file exists; --force replaces it\n$/);
    expect(readFileSync(join(cwd, 'there.msa'), 'utf8')).toBe('keep me');
    expect((await limner([...argv, 'there.msa', '--force'], { cwd })).code).toBe(0);
    expect(readFileSync(join(cwd, 'there.msa'), 'utf8')).toMatch(/^#FORMAT/);
    mkdirSync(join(cwd, 'folder'));
    expect((await limner([...argv, 'folder', '--force'], { cwd })).stderr).toMatch(/folder: not a regular file/);
    expect((await limner([...argv, 'gone/new.msa'], { cwd })).stderr).toMatch(/^limner: gone\/new\.msa: [^\n]+\n$/);
    expect(existsSync(join(cwd, 'gone'))).toBe(false);
    expect(readdirSync(cwd).sort()).toEqual(['folder', 'new.msa', 'there.msa']);
  });

  it('round-trips through the format', async () => {
    const spectrum = await simulated('HgS', '--no-noise', '--live', '60', '--counts', '1234567');
    const again = read(writeEmsa(spectrum));
    expect({ ...again, source: null }).toEqual({ ...spectrum, source: null });
  });
});

describe('wrong use of simulate', () => {
  it.each([
    [[], /missing required argument 'part'/],
    [['Xx2'], /'Xx' is not an element symbol/],
    [['PbO', 'HgS=30'], /PbO needs its share by mass, like PbO=30/],
    [['PbO=0', 'HgS=30'], /the share of PbO 0: give a number/],
    [['PbO=-3', 'HgS=30'], /the share of PbO -3: give a number/],
    [['PbO=1=2'], /'PbO=1=2' cannot be read/],
    [['=3'], /'=3' cannot be read/],
    [['leadwhite'], /'leadwhite' is not a known material/],
    [['__proto__'], /'__proto__'/],
    [['constructor'], /'constructor' is not a known material/],
    [['PbO', '--beam', '0.9'], /--beam 0\.9: the simulator covers 1 to 50 keV/],
    [['PbO', '--beam', '200'], /--beam 200: the simulator covers/],
    [['PbO', '--beam', 'NaN'], /--beam NaN: not an energy/],
    [['PbO', '--counts', '-5'], /--counts -5: give a number from 1/],
    [['PbO', '--counts', '1e30'], /--counts 1e30: give a number/],
    [['PbO', '--counts', '1000', '--current', '1'], /give --counts, or all of --live, --current and --solid-angle/],
    [['PbO', '--live', '10', '--current', '1'], /give --counts, or all of/],
    [['PbO', '--live', '10', '--current', '500', '--solid-angle', '0.1'], /photons per second are more than/],
    [['PbO', '--resolving', '300'], /--resolving needs a count rate; give --live too/],
    [['PbO', '--seed', '1.5'], /--seed 1\.5: give a whole number/],
    [['PbO', '--seed', '7', '--no-noise'], /--seed or --no-noise, not both/],
    [['PbO', '--channels', '1e9'], /--channels 1e9: give a number from 16 to 65536/],
    [['PbO', '--axis', '10'], /--axis 10: give eV per channel/],
    [['PbO', '--take-off', '0'], /--take-off 0: give a number from 1 to 90 \(degrees\)/],
    [['PbO', '--detector', 'gold'], /--detector gold: use one of drift-polymer/],
    [['PbO', '--resolution', '110'], /--resolution 110: no silicon detector resolves that well/],
    [['PbO', '--coat', 'gold'], /--coat gold: give the material and its thickness/],
    [['PbO', '--coat', 'silver:5'], /--coat silver: use one of carbon, gold/],
    [['PbO', '--coat', 'gold:-5'], /--coat -5: give a number from 0 to 1000 \(nm\)/],
    [['PbO', '--film', '1'], /add them in g\/cm3 to each part, like HgS@8\.1/],
    [['PbO@9', '--film', '1', '--grain', '2'], /--film or --grain, not both/],
    [['PbO@9', '--on', 'carbon'], /--on needs --film/],
    [['PbO@9', '--in', 'oil'], /--in needs --grain/],
    [['PbO@0', '--film', '1'], /the density of PbO 0: give a number/],
    [['PbO@9', '--grain', '2', '--in', 'SiO2'], /--in: a thickness needs densities/],
    [['PbO', '--out'], /'--out <FILE>' argument missing/],
  ])('%j gives exit code 2, one line on standard error and nothing else', async (argv, message) => {
    const { code, stdout, stderr } = await limner(['simulate', ...argv]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(message);
    expect(stderr).toMatch(/^limner: [^\n]+\n$/);
  });

  it('answers any words with a spectrum or one line', async () => {
    const word = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.string({ unit: 'binary', maxLength: 8 }),
      fc.constantFrom(
        'PbO=1@9',
        'HgS=2',
        'oil=3',
        '=',
        '@',
        '(((',
        '1e400',
        '--',
        '-1',
        'H',
        'He',
        '--coat',
        '--grain',
        '3',
        '--no-noise',
      ),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(word, { maxLength: 5 }), async (words) => {
        if (words.some((w) => /^--?(o|out|h|help)/.test(w))) return;
        const { code, stdout, stderr } = await limner(['simulate', '--channels', '32', ...words]);
        expect([0, 2]).toContain(code);
        if (code === 0) expect(read(stdout).counts).toHaveLength(32);
        else expect(stderr).toMatch(/^limner: [^\n]+\n$/);
      }),
      { seed: 5, numRuns: 150 },
    );
  });
});

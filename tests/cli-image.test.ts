// The backscatter image against the spectrum, through the command line, on simulated grains.
import { type LimnerRecord } from '@limner/core';
import { beforeEach, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { folderWith } from './fixtures/folder.ts';

const GRAINS = { chalk: 'chalk', white: 'lead-white', zinc: 'zinc-white', earth: 'yellow-ochre' };
const simulated = Promise.all(
  Object.entries(GRAINS).map(async ([name, material]) => {
    const { stdout } = await limner(['simulate', `${material}=80`, 'C21H24O4=20', '--seed', '5']);
    return [`${name}.msa`, stdout] as const;
  }),
);
let cwd = '';

beforeEach(async () => {
  cwd = folderWith(Object.fromEntries(await simulated));
});

const asked = async (...argv: string[]): Promise<LimnerRecord> => {
  const { code, stdout, stderr } = await limner(['identify', ...argv, '--json'], { cwd });
  expect(code, stderr).toBe(0);
  return JSON.parse(stdout) as LimnerRecord;
};

it('an order that holds agrees, for the composition and for the material', async () => {
  const { brightness, warnings } = await asked(
    'zinc.msa',
    '--brighter-than',
    'chalk.msa',
    '--darker-than',
    'white.msa',
  );
  expect(brightness.said.map(({ order, name }) => `${order} ${name}`)).toEqual([
    'brighter-than chalk.msa',
    'darker-than white.msa',
  ]);
  expect(brightness.image).toBe('agrees');
  expect(brightness.candidates.find(({ id }) => id === 'zinc-white')!.image).toBe('agrees');
  expect(warnings.map(({ code }) => code)).not.toContain('image-contradicts');
});

it('an order that cannot be is a warning and a sentence, and rules nothing out', async () => {
  const plain = await asked('chalk.msa');
  const { brightness, warnings, pigments } = await asked('chalk.msa', '--brighter-than', 'white.msa');
  expect(brightness.image).toBe('contradicts');
  expect(brightness.candidates.find(({ id }) => id === 'chalk')!.image).toBe('contradicts');
  expect(warnings.map(({ code }) => code)).toContain('image-contradicts');
  expect(pigments).toEqual(plain.pigments);
  expect(plain.brightness.image).toBeNull();
  const { stdout } = await limner(['identify', 'chalk.msa', '--brighter-than', 'white.msa'], { cwd });
  const text = stdout.replace(/\s+/g, ' ');
  expect(text).toContain('Said to look brighter than white.msa');
  expect(text).toContain('The composition found contradicts it.');
  expect(text).toContain('the image is evidence against');
});

it('near ones stay open: chalk and earth', async () => {
  expect((await asked('earth.msa', '--brighter-than', 'chalk.msa')).brightness.image).toBe('cannot tell');
});

it('the reading says how bright the grain should look beside the usual neighbours', async () => {
  const { stdout } = await limner(['identify', '--full', 'white.msa'], { cwd });
  expect(stdout.replace(/\s+/g, ' ')).toMatch(
    /should therefore look brighter than resin, chalk, earth and zinc white, much like lead white\./,
  );
});

it('a neighbour that cannot be read is one clear error', async () => {
  const { code, stdout, stderr } = await limner(['identify', 'chalk.msa', '--brighter-than', 'none.msa'], { cwd });
  expect([code, stdout]).toEqual([2, '']);
  expect(stderr).toMatch(/neighbour cannot be read: none\.msa/);
  expect((await limner(['identify', 'chalk.msa', '--darker-than', '-'], { cwd })).code).toBe(2);
});

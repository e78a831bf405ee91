import {
  type Body,
  printable,
  reachTree,
  simulate,
  type SimulationConditions,
  type Spectrum,
  treeText,
  withoutRecipe,
  writeEmsa,
} from '@limner/core';
import type { Command } from 'commander';
import { createHash } from 'node:crypto';
import { resolve } from 'node:path';
import {
  type ConditionFlags,
  conditionsFrom,
  DEFAULT_BEAM,
  DEFAULT_COUNTS,
  DEFAULT_SEED,
  DETECTOR_NAMES,
} from '../conditions.ts';
import { examples } from '../examples.ts';
import { EXIT, type Io, UsageError, widthOf } from '../io.ts';
import { bodyFrom, type MountedFlags } from '../mounted.ts';
import { STUFF_NAMES } from '../recipe.ts';
import { fileToWrite, save } from '../save.ts';

interface Flags extends MountedFlags, ConditionFlags {
  readonly title?: string;
  readonly out?: string;
  readonly force?: true;
  readonly blind?: true;
}

const PARTS = `
A part is a formula, a material's id in data/pigments/materials.csv, or one of
${STUFF_NAMES.join(', ')}.
Its share by mass follows '=', its density in g/cm3 follows '@'.`;

const EXAMPLES = [
  "simulate 'PbCO3' --beam 15 > white.msa",
  'simulate lead-white=70 vermilion=25 oil=5 --counts 300000 --seed 7 --out pink.msa',
  'simulate HgS@8.1 --grain 3 --in oil --coat carbon:15 --beam 12',
  'simulate SiO2 --live 60 --current 0.5 --solid-angle 0.01',
];

export function addSimulate(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('simulate')
    .summary('simulate the spectrum of a material, as an EMSA/MAS file')
    .description(
      'Simulates the spectrum of a material and writes it as an EMSA/MAS file that says it is simulated. ' +
        'The same command always gives the same file. A simulated spectrum is no evidence about any object.',
    )
    .argument('<part...>', "parts of the material, like 'HgS=30' 'PbCO3=70'; a single part needs no share")
    .option('--beam <KEV>', `beam energy in keV (default ${DEFAULT_BEAM})`)
    .option('--counts <N>', `counts in the whole spectrum (default ${DEFAULT_COUNTS} unless a current is given)`)
    .option('--live <S>', 'live time in s')
    .option('--current <NA>', 'probe current in nA; with --live and --solid-angle instead of --counts')
    .option('--solid-angle <SR>', 'solid angle of the detector in sr')
    .option(
      '--coat <NAME:NM>',
      'coat and its thickness in nm, like carbon:15 or gold-palladium:8; repeatable, outermost first',
      more,
    )
    .option('--film <UM>', 'make it a film of this thickness, in µm')
    .option('--on <LIST>', 'what is under the film, parts separated by commas (default carbon)')
    .option('--grain <UM>', 'make it a grain of this diameter, in µm, cut through its middle')
    .option('--in <LIST>', 'what is around the grain, parts separated by commas (default resin)')
    .option('--take-off <DEG>', 'take-off angle in degrees (default 40)')
    .option('--detector <NAME>', `crystal and window: ${DETECTOR_NAMES.join(', ')}`)
    .option('--resolution <EV>', 'FWHM at Mn K-L3 (Kα1) in eV')
    .option('--resolving <NS>', 'pulse-pair resolving time in ns; needs --live')
    .option('--zero-peak <N>', 'counts in a zero peak')
    .option('--axis <GAIN,OFFSET>', 'eV per channel and energy of channel 0 in eV (default 10,0)')
    .option('--channels <N>', 'number of channels (default 2048)')
    .option('--seed <N>', `whole number that fixes the counting noise (default ${DEFAULT_SEED})`)
    .option('--no-noise', 'expected counts without noise, not rounded to whole numbers')
    .option('--title <TEXT>', 'title of the spectrum')
    .option('--blind', 'leave the recipe out of the file; the key goes to standard error')
    .option('--out <FILE>', "write to this file (default '-', standard output)")
    .option('--force', 'replace an existing file')
    .addHelpText(
      'after',
      PARTS + '\n' + examples(io.command, ...EXAMPLES, `simulate 'CaSO4.2H2O' --no-noise | ${io.command} identify -`),
    )
    .action(async (parts: string[], flags: Flags) => {
      const file = fileToWrite('simulate', flags);
      const body = bodyFrom(parts, flags);
      const conditions = conditionsFrom(flags);
      const spectrum = simulated(body, conditions, flags, parts);
      const command = commandOf(parts, flags);
      const text = writeEmsa(flags.blind ? blinded(spectrum, command, flags.title) : withCommand(spectrum, command));
      if (file === null) io.stdout.write(text);
      else await save(resolve(io.cwd, file), file, text, flags.force ?? false);
      const reach = reachTree(body, conditions.beamKev, conditions.takeOffDeg ?? 40, flags.film !== undefined);
      if (flags.blind) io.stderr.write(`Key (keep it secret; its SHA-256 is the commitment in the file): ${command}\n`);
      io.stderr.write(treeText(reach, { width: widthOf(io) }));
      exit(EXIT.done);
    });
}

const more = (value: string, before: readonly string[] = []): string[] => [...before, value];

/** @throws UsageError where core refuses */
function simulated(body: Body, conditions: SimulationConditions, { title }: Flags, parts: readonly string[]): Spectrum {
  try {
    return simulate({ body, title: printable(title ?? parts.join(' ')) }, conditions);
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(`simulate: ${error.message}`, { cause: error });
    throw error;
  }
}

/** The command that makes the spectrum again. */
const commandOf = (parts: readonly string[], flags: Flags): string =>
  ['limner', 'simulate', ...parts, ...optionWords(flags)].map(quoted).join(' ');

function withCommand(spectrum: Spectrum, command: string): Spectrum {
  const value = printable(`Made by: ${command}`);
  return { ...spectrum, header: [...spectrum.header, { key: 'COMMENT', unit: '', value }] };
}

const ID_DIGITS = 8;

/** Without its recipe, committed to the command that made it. */
function blinded(spectrum: Spectrum, command: string, title: string | undefined): Spectrum {
  const commitment = createHash('sha256').update(command).digest('hex');
  return withoutRecipe(spectrum, { exercise: printable(title ?? commitment.slice(0, ID_DIGITS)), commitment });
}

/** Flags that are no option with a value, or do not change the spectrum. */
const APART = ['noise', 'out', 'force', 'blind'];

/** Options as they are typed. */
function optionWords(flags: Flags): string[] {
  const valued = Object.entries(flags).filter(([name]) => !APART.includes(name));
  const words = valued.flatMap(([name, value]: [string, string | readonly string[]]) => {
    const option = `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
    return [value].flat().flatMap((one) => [option, one]);
  });
  return flags.noise ? words : [...words, '--no-noise'];
}

/** A word as a shell takes it. */
const quoted = (word: string): string =>
  /^[\w.,:=@/+-]+$/.test(word) ? word : `'${word.replaceAll("'", String.raw`'\''`)}'`;

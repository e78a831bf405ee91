import {
  type Body,
  printable,
  reachTree,
  simulate,
  type SimulationConditions,
  type Spectrum,
  treeText,
  writeEmsa,
} from '@limner/core';
import type { Command } from 'commander';
import { resolve } from 'node:path';
import { type ConditionFlags, conditionsFrom, DEFAULT_COUNTS, DEFAULT_SEED, DETECTOR_NAMES } from '../conditions.ts';
import { EXIT, type Io, UsageError, widthOf } from '../io.ts';
import { bodyFrom, type MountedFlags } from '../mounted.ts';
import { STUFF_NAMES } from '../recipe.ts';
import { save } from '../save.ts';

interface Flags extends MountedFlags, ConditionFlags {
  readonly title?: string;
  readonly out?: string;
  readonly force?: true;
}

const EXAMPLES = `
A part is a formula, a material's short name in data/pigments/materials.csv, or
one of ${STUFF_NAMES.join(', ')}.
Its share by mass stands behind '=', its density in g/cm3 behind '@'.

Examples:
  limner simulate 'PbCO3' --beam 15 > white.msa
  limner simulate lead-white=70 vermilion=25 oil=5 --counts 300000 --seed 7 --out pink.msa
  limner simulate HgS@8.1 --grain 3 --in oil --coat carbon:15 --beam 12
  limner simulate SiO2 --live 60 --current 0.5 --solid-angle 0.01
  limner simulate 'CaSO4.2H2O' --no-noise | limner identify -`;

export function addSimulate(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('simulate')
    .summary('the spectrum that a material would give, as an EMSA/MAS file')
    .description(
      'Works out the spectrum that a material would give and writes it as an EMSA/MAS file that says it is simulated. ' +
        'The same command gives the same bytes. A simulated spectrum is no evidence about any object.',
    )
    .argument('<part...>', "what it is made of, like 'HgS=30' 'PbCO3=70'; one part needs no share")
    .option('--beam <KEV>', 'beam energy in keV', '20')
    .option('--counts <N>', `counts in the whole spectrum (${DEFAULT_COUNTS} unless a current is given)`)
    .option('--live <S>', 'live time in s')
    .option('--current <NA>', 'probe current in nA; with --live and --solid-angle in place of --counts')
    .option('--solid-angle <SR>', 'solid angle of the detector in sr')
    .option('--coat <NAME:NM>', 'a coat, like carbon:15 or gold-palladium:8; again for more, outermost first', more)
    .option('--film <UM>', 'a film of this thickness')
    .option('--on <LIST>', 'what is under the film, parts separated by commas (carbon unless given)')
    .option('--grain <UM>', 'a grain of this diameter, cut in its middle')
    .option('--in <LIST>', 'what is around the grain, parts separated by commas (resin unless given)')
    .option('--take-off <DEG>', 'take-off angle in degrees (40 unless given)')
    .option('--detector <NAME>', `crystal and window: ${DETECTOR_NAMES.join(', ')}`)
    .option('--resolution <EV>', 'FWHM at Mn K-alpha in eV')
    .option('--resolving <NS>', 'pulse-pair resolving time in ns; needs --live')
    .option('--zero-peak <N>', 'counts of a zero peak')
    .option('--axis <GAIN,OFFSET>', 'eV per channel and energy of channel 0 in eV (10,0 unless given)')
    .option('--channels <N>', 'number of channels (2048 unless given)')
    .option('--seed <N>', `whole number that fixes the counting noise (${DEFAULT_SEED} unless given)`)
    .option('--no-noise', 'the expected counts, with fractions')
    .option('--title <TEXT>', 'title of the spectrum')
    .option('--out <FILE>', "write to this file, not to standard output ('-')")
    .option('--force', 'replace that file if it is there')
    .addHelpText('after', EXAMPLES)
    .action(async (parts: string[], flags: Flags) => {
      const body = bodyFrom(parts, flags);
      const conditions = conditionsFrom(flags);
      const text = writeEmsa(withCommand(simulated(body, conditions, flags, parts), parts, flags));
      if (flags.out === undefined || flags.out === '-') io.stdout.write(text);
      else await save(resolve(io.cwd, flags.out), flags.out, text, flags.force ?? false);
      const reach = reachTree(body, conditions.beamKev, conditions.takeOffDeg ?? 40, flags.film !== undefined);
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

/** The command that makes the spectrum again, as a comment. */
function withCommand(spectrum: Spectrum, parts: readonly string[], flags: Flags): Spectrum {
  const command = ['limner', 'simulate', ...parts, ...optionWords(flags)].map(quoted).join(' ');
  const value = printable(`Made by: ${command}`);
  return { ...spectrum, header: [...spectrum.header, { key: 'COMMENT', unit: '', value }] };
}

/** Flags that are no option with a value, or do not change the spectrum. */
const APART = ['noise', 'out', 'force'];

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

import {
  blankSheet,
  type Exercise,
  exerciseSpectrum,
  type Level,
  makeExercises,
  recipeText,
  withoutRecipe,
  writeEmsa,
} from '@limner/core';
import { csv } from '@limner/session';
import { type Command, Option } from 'commander';
import { createHash, randomInt } from 'node:crypto';
import { resolve } from 'node:path';
import { examples } from '../examples.ts';
import { EXIT, type Io, UsageError } from '../io.ts';
import { markSheets } from '../marks.ts';
import { newFolder } from '../new-folder.ts';
import { save } from '../save.ts';
import { wholeValue } from '../values.ts';

interface Flags {
  readonly level?: string;
  readonly seed?: string;
  readonly number?: string;
  readonly out?: string;
  readonly key?: string;
  readonly mark?: readonly string[];
}

const LEVELS = ['1', '2', '3'];
const MOST = 200;
/** Streams tell 2^32 of them apart: more than anyone tries during a lesson. */
const MOST_DRAWN = 2 ** 47;

const ABOUT = `
Fill in sheet.csv: for each element 'present', 'absent' or 'cannot-tell' and, if
you like, the probability in per cent that it is present; for 'material' the id
or name of a material. Points are 1 - 4 (probability - what the counts
support)^2: at most 1, and -3 for being certain of something false.
'cannot-tell' is right wherever the counts give less than 3 sigma.`;

const EXAMPLES = [
  'exercise --level 1 --seed 250719 --number 12 --out class-a',
  'exercise --mark anna.csv ben.csv --key class-a-key.json --out class-a-marks',
];

export function addExercise(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('exercise')
    .summary('make blind exercises on overlaps, or mark the sheets of a class')
    .description(
      'Writes a folder of simulated spectra without their recipes, and a sheet to fill in; the key is written next to the folder. ' +
        'With --mark it marks sheets against what the counts can decide. Nothing leaves the machine; a sheet needs no name.',
    )
    .addOption(new Option('--level <N>', 'difficulty, 1 to 3').choices(LEVELS))
    .option(
      '--seed <N>',
      'whole number that fixes the set; keep it secret, as the same seed makes the same set (default: drawn at random and kept in the key)',
    )
    .option('--number <N>', `number of exercises, up to ${MOST} (default 12)`)
    .option('--out <FOLDER>', 'new folder for the exercises, or for the marks')
    .option(
      '--key <FILE>',
      "where the key is written (default: next to the folder, ending in '-key.json'), or read from with --mark",
    )
    .option('--mark <SHEETS...>', 'mark these sheets; needs --key')
    .addHelpText('after', `${ABOUT}\n${examples(io.command, ...EXAMPLES)}`)
    .action(async (flags: Flags) => {
      if (flags.mark === undefined) await make(io, flags);
      else {
        const { level, seed, number, key, mark, out } = flags;
        if (level ?? seed ?? number) throw new UsageError('exercise: --mark takes level, seed and number from the key');
        if (key === undefined) throw new UsageError('exercise: --mark needs --key');
        return exit(await markSheets(io, mark, key, out));
      }
      exit(EXIT.done);
    });
}

async function make(io: Io, flags: Flags): Promise<void> {
  const { level, out } = flags;
  if (level === undefined) throw new UsageError('exercise: give --level 1, 2 or 3');
  if (out === undefined) throw new UsageError('exercise: give --out, a new folder');
  const seed = wholeValue('--seed', flags.seed ?? String(randomInt(MOST_DRAWN)), '', 0, Number.MAX_SAFE_INTEGER);
  const number = wholeValue('--number', flags.number ?? '12', '', 1, MOST);
  const exercises = makeExercises(Number(level) as Level, seed, number);
  const files = new Map<string, string>(exercises.map((exercise) => [fileOf(exercise, number), blindFile(exercise)]));
  files.set('sheet.csv', csv(blankSheet(exercises)));
  const key = flags.key ?? `${out.replace(/[/\\]+$/, '')}-key.json`;
  await save(resolve(io.cwd, key), key, keyText(Number(level), seed, exercises), 'never');
  await newFolder(resolve(io.cwd, out), out, files);
  io.stderr.write(`${out}: ${number} exercises and sheet.csv. Keep ${key} secret: it holds the recipes.\n`);
}

const fileOf = ({ number }: Exercise, of: number): string =>
  `exercise-${String(number).padStart(String(of).length, '0')}.msa`;

function blindFile(exercise: Exercise): string {
  const commitment = createHash('sha256').update(recipeText(exercise)).digest('hex');
  return writeEmsa(withoutRecipe(exerciseSpectrum(exercise), { exercise: String(exercise.number), commitment }));
}

/** What marks a set, and shows that it was fixed beforehand: the SHA-256 of each recipe's text is in its file. */
function keyText(level: number, seed: number, exercises: readonly Exercise[]): string {
  const recipes = exercises.map(recipeText);
  return `${JSON.stringify({ schema: 'limner-exercise-key/1', level, seed, number: exercises.length, recipes }, null, 1)}\n`;
}

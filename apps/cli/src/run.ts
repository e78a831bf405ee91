import { SOFTWARE_VERSION } from '@limner/core';
import { Command, CommanderError } from 'commander';
import { addClash } from './commands/clash.ts';
import { addExercise } from './commands/exercise.ts';
import { addIdentify } from './commands/identify.ts';
import { addLines } from './commands/lines.ts';
import { addMerge } from './commands/merge.ts';
import { addReference } from './commands/reference.ts';
import { addSheet } from './commands/sheet.ts';
import { addShow } from './commands/show.ts';
import { addPlan } from './commands/plan.ts';
import { addSimulate } from './commands/simulate.ts';
import { addTag } from './commands/tag.ts';
import { addTeach } from './commands/teach.ts';
import { complain, EXIT, type Io, UsageError, WriteError } from './io.ts';

const ABOUT =
  'Reads energy-dispersive X-ray spectra (EMSA/MAS files) of paint grains: which elements are present, how certain that is, what ' +
  'else could explain the counts, and which historical pigments are possible.';

const EXIT_CODES = `
Exit codes:
    0  done
    1  done, but some inputs failed; each is named
    2  wrong usage; nothing was done
    3  nothing could be read, or the results could not be written
  130  'tag' was interrupted (Ctrl-C, SIGTERM); the same command resumes it

Results go to standard output, messages to standard error.`;

/**
 * Runs the command line on arguments (without node and script) and returns its exit code. It never throws and never ends the process.
 */
export async function run(argv: readonly string[], io: Io): Promise<number> {
  let code: number = EXIT.done;
  const program = build(io, (exitCode) => (code = exitCode));
  try {
    if (argv.length === 0) throw new UsageError(`no command was given; '${io.command} --help' lists them`);
    await program.parseAsync([...argv], { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.usage;
    if (error instanceof UsageError) {
      for (const line of error.message.split('\n')) complain(io, line);
      return EXIT.usage;
    }
    if (error instanceof WriteError) {
      complain(io, error.message);
      return EXIT.notWritten;
    }
    complain(io, `internal error in Limner: ${error instanceof Error ? error.message : String(error)}`);
    return EXIT.nothingRead;
  }
}

function build(io: Io, exit: (code: number) => void): Command {
  const program = new Command(io.command)
    .description(ABOUT)
    .version(SOFTWARE_VERSION, '--version', 'print the version')
    .helpOption('--help', 'print this help')
    .helpCommand(false)
    .addHelpText('after', EXIT_CODES)
    .exitOverride()
    .configureOutput({
      writeOut: (text) => io.stdout.write(text),
      writeErr: (text) => io.stderr.write(text),
      outputError: (text) => complain(io, oneLine(text)),
    });
  for (const add of [
    addIdentify,
    addLines,
    addTag,
    addMerge,
    addSheet,
    addClash,
    addPlan,
    addSimulate,
    addReference,
    addExercise,
    addTeach,
    addShow,
  ])
    add(program, io, exit);
  return program;
}

/** The parser's message without its 'error:' and its line breaks. */
function oneLine(text: string): string {
  return text
    .replace(/^error: /, '')
    .trim()
    .replace(/\s*\n\s*/g, ' ');
}

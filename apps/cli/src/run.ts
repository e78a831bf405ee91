import { SOFTWARE_VERSION } from '@limner/core';
import { Command, CommanderError } from 'commander';
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

type Add = (program: Command, io: Io, exit: (code: number) => void) => void;

/** The commands in the order of the help. Each is loaded when it is called: what it does not use takes longer to load than a short one to run. */
const COMMANDS: ReadonlyMap<string, () => Promise<Add>> = new Map<string, () => Promise<Add>>([
  ['identify', async () => (await import('./commands/identify.ts')).addIdentify],
  ['lines', async () => (await import('./commands/lines.ts')).addLines],
  ['tag', async () => (await import('./commands/tag.ts')).addTag],
  ['merge', async () => (await import('./commands/merge.ts')).addMerge],
  ['sheet', async () => (await import('./commands/sheet.ts')).addSheet],
  ['clash', async () => (await import('./commands/clash.ts')).addClash],
  ['plan', async () => (await import('./commands/plan.ts')).addPlan],
  ['simulate', async () => (await import('./commands/simulate.ts')).addSimulate],
  ['reference', async () => (await import('./commands/reference.ts')).addReference],
  ['exercise', async () => (await import('./commands/exercise.ts')).addExercise],
  ['teach', async () => (await import('./commands/teach.ts')).addTeach],
  ['show', async () => (await import('./commands/show.ts')).addShow],
]);

/** The command that is called; all of them where what is called is none, for help and for what may have been meant. */
async function commandsFor(called: string | undefined): Promise<Add[]> {
  if (called === '--version') return [];
  const one = COMMANDS.get(called ?? '');
  return Promise.all((one ? [one] : [...COMMANDS.values()]).map((load) => load()));
}

/**
 * Runs the command line on arguments (without node and script) and returns its exit code. It never throws and never ends the process.
 */
export async function run(argv: readonly string[], io: Io): Promise<number> {
  let code: number = EXIT.done;
  try {
    if (argv.length === 0) throw new UsageError(`no command was given; '${io.command} --help' lists them`);
    const program = build(io, await commandsFor(argv[0]), (exitCode) => (code = exitCode));
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

function build(io: Io, commands: readonly Add[], exit: (code: number) => void): Command {
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
  for (const add of commands) add(program, io, exit);
  return program;
}

/** The parser's message without its 'error:' and its line breaks. */
function oneLine(text: string): string {
  return text
    .replace(/^error: /, '')
    .trim()
    .replace(/\s*\n\s*/g, ' ');
}

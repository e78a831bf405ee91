import type { Command } from 'commander';
import { resolve } from 'node:path';
import { addReadingOptions, type ReadingFlags, readingOptions } from '../inputs.ts';
import { complain, EXIT, exitCodeOf, type Io, UsageError } from '../io.ts';

interface Flags extends ReadingFlags {
  readonly out: string;
}

export function addTag(program: Command, io: Io, exit: (code: number) => void): void {
  const command = program
    .command('tag')
    .summary('read a whole folder into records, tables and a report')
    .description(
      'Reads every spectrum in a folder and below it, and writes records.ndjson, elements.csv, pigments.csv, failures.csv and report.html. ' +
        'Spectra are known by their content. Only files that an earlier run wrote are replaced; none is deleted.',
    )
    .argument('<folder>', 'folder with spectra')
    .requiredOption('--out <FOLDER>', 'folder for the results; made if it is not there');
  addReadingOptions(command)
    .addHelpText('after', '\nExample:\n  limner tag session-3 --out session-3-read --mount carbon-stub')
    .action(async (folder: string, flags: Flags) => exit(await tagFolder(io, folder, flags)));
}

async function tagFolder(io: Io, folder: string, flags: Flags): Promise<number> {
  const { identify, axis } = readingOptions(flags);
  const { InputError, OutputError, tag } = await import('@limner/session');
  const ended = new AbortController();
  void io.interrupted().then(() => ended.abort());
  try {
    const [from, to] = [resolve(io.cwd, folder), resolve(io.cwd, flags.out)];
    const options = { ...identify, ...(axis && { axis }), ...progressOn(io), signal: ended.signal };
    const { read, failures, others } = await tag(from, to, options);
    for (const { file, reason } of failures) complain(io, `${file}: ${reason}`);
    if (read + failures.length === 0) {
      complain(io, `${folder}: no spectrum was found there; give the folder that the spectra were exported to`);
      return EXIT.nothingRead;
    }
    io.stderr.write(
      `${told(read, 'spectrum', 'spectra')} read into ${flags.out}${failures.length > 0 ? `, ${failures.length} not read` : ''}`,
    );
    io.stderr.write(others.length > 0 ? `; ${told(others.length, 'other file', 'other files')} left aside\n` : '\n');
    return exitCodeOf(read, failures.length);
  } catch (error) {
    if (ended.signal.aborted) {
      complain(io, 'interrupted: nothing was written');
      return EXIT.interrupted;
    }
    if (error instanceof OutputError) throw new UsageError(error.message, { cause: error });
    if (!(error instanceof InputError)) throw error;
    complain(io, error.message);
    return EXIT.nothingRead;
  }
}

/** A line that overwrites itself, on a terminal only. */
function progressOn(io: Io): { onProgress?: (done: number, total: number) => void } {
  if (!io.stderr.isTTY) return {};
  return {
    onProgress: (done, total) => io.stderr.write(done < total ? `\rreading ${done + 1} of ${total} ` : '\r\u001b[K'),
  };
}

const told = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

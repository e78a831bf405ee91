import { identify, readingText, TEXT_WIDTH } from '@limner/core';
import { messageOf } from '@limner/session';
import type { Command } from 'commander';
import { addReadingOptions, readInput, type ReadingFlags, readingOptions } from '../inputs.ts';
import { complain, exitCodeOf, type Io, UsageError } from '../io.ts';

interface Flags extends ReadingFlags {
  readonly json?: true;
}

export function addIdentify(program: Command, io: Io, exit: (code: number) => void): void {
  const command = program
    .command('identify')
    .summary('read spectra: which elements, how sure, what else, which pigments')
    .description(
      'Reads spectra and says which elements are there, how sure that is, what else it could be, and which pigments that allows.',
    )
    .argument('<file...>', "spectra to read, in this order; '-' is standard input");
  addReadingOptions(command)
    .option('--json', 'print the record of each spectrum, one line of JSON each')
    .addHelpText(
      'after',
      '\nExamples:\n  limner identify grain-07.msa\n  limner identify --json --beam 20 *.msa > records.ndjson',
    )
    .action(async (files: string[], flags: Flags) => exit(await identifyFiles(io, files, flags)));
}

async function identifyFiles(io: Io, files: readonly string[], flags: Flags): Promise<number> {
  const options = readingOptions(flags);
  if (files.filter((file) => file === '-').length > 1)
    throw new UsageError("standard input ('-') can be read only once");
  let read = 0;
  let failed = 0;
  for (const file of files) {
    try {
      const record = identify(await readInput(io, file, options.axis), options.identify);
      const rule = read > 0 ? `${'-'.repeat(TEXT_WIDTH)}\n` : '';
      io.stdout.write(flags.json ? `${JSON.stringify(record)}\n` : rule + readingText(record));
      read++;
    } catch (error) {
      complain(io, messageOf(error));
      failed++;
    }
  }
  return exitCodeOf(read, failed);
}

import { InputError, OutputError, SheetError, tag } from '@limner/session';
import type { Command } from 'commander';
import { resolve } from 'node:path';
import { examples } from '../examples.ts';
import { addReadingOptions, type ReadingFlags, readingOptions } from '../inputs.ts';
import { complain, EXIT, exitCodeOf, type Io, refusal } from '../io.ts';
import { progressOn } from '../progress.ts';
import { dayValue, partValue, wholeValue } from '../values.ts';

interface Flags extends ReadingFlags {
  readonly out: string;
  readonly workers?: string;
  readonly part?: string;
  readonly alone?: true;
  readonly ruledOut?: true;
  readonly quiet?: true;
}

export function addTag(program: Command, io: Io, exit: (code: number) => void): void {
  const command = program
    .command('tag')
    .summary('read a whole folder into records, tables and a report')
    .description(
      'Reads every spectrum in a folder and its subfolders, and writes records.ndjson, curves.ndjson, elements.csv, pigments.csv, grains.csv, notes.csv, layers.csv, kinds.csv, kind-members.csv, profile.csv, failures.csv and report.html, ' +
        'with a manifest and descriptions for data repositories (RO-Crate, Table Schema). ' +
        'A sample sheet, samples.csv, in that folder groups the results by layer, and says what else was seen of a grain and which spectra are of known materials. ' +
        'Spectra are recognised by their content. Only files that an earlier run wrote are replaced; none is deleted. ' +
        'An interrupted run resumes when the same command is given again.',
    )
    .argument('<folder>', 'folder with spectra')
    .requiredOption('--out <FOLDER>', 'folder for the results; created if missing')
    .option('--workers <N>', 'spectra read at the same time (default: one per core)')
    .option('--part <K/N>', 'read only the K-th of N shares of the spectra, to divide the work over several machines')
    .option('--alone', 'read every spectrum on its own, without what the others show about the instrument')
    .option('--ruled-out', 'also list in pigments.csv the materials that a spectrum rules out')
    .option('--quiet', 'show no progress');
  addReadingOptions(command)
    .addHelpText('after', examples(io.command, 'tag session-3 --out session-3-read --mount carbon-stub'))
    .action(async (folder: string, flags: Flags) => exit(await tagFolder(io, folder, flags)));
}

async function tagFolder(io: Io, folder: string, flags: Flags): Promise<number> {
  const { options: reading, axis } = await readingOptions(io, flags);
  const date = dayValue(io.env);
  const spread = {
    ...(date !== undefined && { date }),
    ...(flags.workers !== undefined && { workers: wholeValue('--workers', flags.workers, '', 1, 1024) }),
    ...(flags.alone === true && { alone: true }),
    ...(flags.ruledOut === true && { ruledOut: true }),
    ...(flags.part !== undefined && { part: partValue('--part', flags.part) }),
  };
  const ended = new AbortController();
  void io.interrupted().then(() => ended.abort());
  try {
    const [from, to] = [resolve(io.cwd, folder), resolve(io.cwd, flags.out)];
    const kept = flags.references === undefined ? {} : { referenceFolder: resolve(io.cwd, flags.references) };
    const options = { ...reading, ...(axis && { axis }), ...spread, ...kept };
    const watched = { ...options, ...progressOn(io, flags.quiet === true), signal: ended.signal };
    const { read, failures, elsewhere, others, unused, contradicted, copies } = await tag(from, to, watched);
    for (const line of unused) complain(io, line);
    for (const line of contradicted) complain(io, line);
    for (const { file, of } of copies) complain(io, `${file}: identical to ${of}; counted once`);
    for (const { file, reason } of failures) complain(io, `${file}: ${reason}`);
    if (read + failures.length + elsewhere === 0) {
      complain(io, `${folder}: no spectrum found; give the folder that the spectra were exported to`);
      return EXIT.nothingRead;
    }
    io.stderr.write(
      `${told(read, 'spectrum', 'spectra')} read into ${flags.out}${failures.length > 0 ? `, ${failures.length} not read` : ''}`,
    );
    if (elsewhere > 0) io.stderr.write(`; ${elsewhere} left to other parts`);
    io.stderr.write(others.length > 0 ? `; ${told(others.length, 'other file', 'other files')} ignored\n` : '\n');
    return exitCodeOf(read, failures.length);
  } catch (error) {
    if (ended.signal.aborted) {
      complain(io, 'interrupted; the spectra read so far are kept, and the same command resumes from there');
      return EXIT.interrupted;
    }
    if (error instanceof SheetError) {
      for (const line of error.message.split('\n')) complain(io, line);
      return EXIT.usage;
    }
    if (error instanceof OutputError) throw refusal(error);
    if (!(error instanceof InputError)) throw error;
    complain(io, error.message);
    return EXIT.nothingRead;
  }
}

const told = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

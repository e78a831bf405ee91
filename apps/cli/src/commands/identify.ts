import { identify, type ImageNeighbour, readingText } from '@limner/core';
import { messageOf } from '@limner/session';
import type { Command } from 'commander';
import { basename } from 'node:path';
import { addReadingOptions, readInput, type ReadingFlags, type ReadingOptions, readingOptions } from '../inputs.ts';
import { complain, exitCodeOf, type Io, UsageError, widthOf } from '../io.ts';

interface Flags extends ReadingFlags {
  readonly full?: true;
  readonly json?: true;
  readonly brighterThan?: readonly string[];
  readonly darkerThan?: readonly string[];
}

const BRIGHTER = 'spectrum of something beside which the grain looked brighter in the backscatter image';
const several = (file: string, before: readonly string[] = []): readonly string[] => [...before, file];

export function addIdentify(program: Command, io: Io, exit: (code: number) => void): void {
  const command = program
    .command('identify')
    .summary('read spectra: which elements, how sure, what else, which pigments')
    .description(
      'Reads spectra and says which elements are there, how sure that is, what else it could be, and which pigments that allows.',
    )
    .argument('<file...>', "spectra to read, in this order; '-' is standard input");
  addReadingOptions(command)
    .option('--brighter-than <FILE>', BRIGHTER, several)
    .option('--darker-than <FILE>', 'beside which it looked darker (both may be given more than once)', several)
    .option('--full', 'print all of the reading, not one screen of it')
    .option('--json', 'print the record of each spectrum, one line of JSON each')
    .addHelpText(
      'after',
      '\nExamples:\n  limner identify grain-07.msa\n  limner identify --json --beam 20 *.msa > records.ndjson' +
        '\n  limner identify grain-07.msa --brighter-than ground-02.msa',
    )
    .action(async (files: string[], flags: Flags) => exit(await identifyFiles(io, files, flags)));
}

async function identifyFiles(io: Io, files: readonly string[], flags: Flags): Promise<number> {
  const options = await readingOptions(io, flags);
  if (files.filter((file) => file === '-').length > 1)
    throw new UsageError("standard input ('-') can be read only once");
  const image = await neighboursOf(io, flags, options);
  const text = { width: widthOf(io), length: flags.full ? 'full' : 'brief' } as const;
  let read = 0;
  let failed = 0;
  for (const file of files) {
    try {
      const record = identify(await readInput(io, file, options.axis), { ...options.identify, image });
      const rule = read > 0 ? `${'-'.repeat(text.width)}\n` : '';
      io.stdout.write(flags.json ? `${JSON.stringify(record)}\n` : rule + readingText(record, text));
      read++;
    } catch (error) {
      complain(io, messageOf(error));
      failed++;
    }
  }
  return exitCodeOf(read, failed);
}

/** What the grain was seen beside, each identified on its own. @throws UsageError where one cannot be read */
async function neighboursOf(io: Io, flags: Flags, options: ReadingOptions): Promise<ImageNeighbour[]> {
  const given = [
    ...(flags.brighterThan ?? []).map((file) => ({ order: 'brighter-than' as const, file })),
    ...(flags.darkerThan ?? []).map((file) => ({ order: 'darker-than' as const, file })),
  ];
  const out: ImageNeighbour[] = [];
  for (const { order, file } of given)
    out.push({ order, name: basename(file), backscatter: await backscatterOf(io, file, options) });
  return out;
}

async function backscatterOf(
  io: Io,
  file: string,
  { axis, identify: options }: ReadingOptions,
): Promise<ImageNeighbour['backscatter']> {
  if (file === '-') throw new UsageError('what the grain was seen beside must be a file, not standard input');
  let identified;
  try {
    const plain = { ...options, claim: [], without: [] };
    ({ identified } = identify(await readInput(io, file, axis), plain).brightness);
  } catch (error) {
    throw new UsageError(`what the grain was seen beside cannot be read: ${messageOf(error)}`);
  }
  if (identified === null) throw new UsageError(`${file} shows no element with an amount: how bright it is stays open`);
  return identified;
}

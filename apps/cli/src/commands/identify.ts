import { identify, type ImageNeighbour, readingText } from '@limner/core';
import { messageOf } from '@limner/session';
import type { Command } from 'commander';
import { basename } from 'node:path';
import { examples } from '../examples.ts';
import { addReadingOptions, readInput, type ReadingFlags, type ReadingOptions, readingOptions } from '../inputs.ts';
import { complain, exitCodeOf, type Io, UsageError, widthOf } from '../io.ts';
import { referencesOf } from '../references.ts';
import { seenValue } from '../values.ts';

interface Flags extends ReadingFlags {
  readonly full?: true;
  readonly json?: true;
  readonly brighterThan?: readonly string[];
  readonly darkerThan?: readonly string[];
  readonly seen?: string;
}

const BRIGHTER = 'spectrum of a neighbour that looked darker than the grain in the backscatter image; repeatable';
const several = (file: string, before: readonly string[] = []): readonly string[] => [...before, file];

export function addIdentify(program: Command, io: Io, exit: (code: number) => void): void {
  const command = program
    .command('identify')
    .summary('read spectra: elements, how certain they are, rivals, possible pigments')
    .description(
      'Reads spectra and says which elements are present, how certain that is, what else could explain the counts, and which pigments are possible.',
    )
    .argument('<file...>', "spectra to read; '-' is standard input");
  addReadingOptions(command)
    .option('--brighter-than <FILE>', BRIGHTER, several)
    .option('--darker-than <FILE>', 'spectrum of a neighbour that looked brighter; repeatable', several)
    .option('--seen <LIST>', 'what else was seen of the grain, like colour=blue,opacity=transparent,raman_cm1=403+1098')
    .option('--full', 'print the whole reading, not just one screen of it')
    .option('--json', 'print the record of each spectrum as one line of JSON')
    .addHelpText(
      'after',
      examples(
        io.command,
        'identify grain-07.msa',
        'identify --json --beam 20 *.msa > records.ndjson',
        'identify grain-07.msa --brighter-than ground-02.msa',
      ),
    )
    .action(async (files: string[], flags: Flags) => exit(await identifyFiles(io, files, flags)));
}

async function identifyFiles(io: Io, files: readonly string[], flags: Flags): Promise<number> {
  const given = await readingOptions(io, flags);
  if (files.filter((file) => file === '-').length > 1)
    throw new UsageError("standard input ('-') can be read only once");
  const seen = flags.seen === undefined ? null : seenValue('--seen', flags.seen);
  const image = await neighboursOf(io, flags, given);
  const references = flags.references === undefined ? [] : await referencesOf(io, flags.references, given);
  const text = { width: widthOf(io), length: flags.full ? 'full' : 'brief' } as const;
  let read = 0;
  let failed = 0;
  for (const file of files) {
    try {
      const record = identify(await readInput(io, file, given.axis), { ...given.options, image, seen, references });
      const rule = read > 0 ? `${'-'.repeat(text.width)}\n` : '';
      io.stdout.write(
        flags.json ? `${JSON.stringify(record)}\n` : rule + readingText(record, { ...text, command: io.command }),
      );
      read++;
    } catch (error) {
      complain(io, messageOf(error));
      failed++;
    }
  }
  return exitCodeOf(read, failed);
}

/** What the grain was seen beside, each identified on its own. @throws UsageError where one cannot be read */
async function neighboursOf(io: Io, flags: Flags, reading: ReadingOptions): Promise<ImageNeighbour[]> {
  const given = [
    ...(flags.brighterThan ?? []).map((file) => ({ order: 'brighter-than' as const, file })),
    ...(flags.darkerThan ?? []).map((file) => ({ order: 'darker-than' as const, file })),
  ];
  const out: ImageNeighbour[] = [];
  for (const { order, file } of given)
    out.push({ order, name: basename(file), backscatter: await backscatterOf(io, file, reading) });
  return out;
}

async function backscatterOf(
  io: Io,
  file: string,
  { axis, options }: ReadingOptions,
): Promise<ImageNeighbour['backscatter']> {
  if (file === '-') throw new UsageError('--brighter-than and --darker-than take a file, not standard input');
  let identified;
  try {
    const plain = { ...options, claim: [], without: [] };
    ({ identified } = identify(await readInput(io, file, axis), plain).brightness);
  } catch (error) {
    throw new UsageError(`the neighbour cannot be read: ${messageOf(error)}`);
  }
  if (identified === null)
    throw new UsageError(
      `${file} shows no element with an amount, so its brightness is unknown; name another neighbour`,
    );
  return identified;
}

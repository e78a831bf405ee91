import { merge, MergeError, OutputError } from '@limner/session';
import type { Command } from 'commander';
import { resolve } from 'node:path';
import { examples } from '../examples.ts';
import { complain, exitCodeOf, type Io, refusal, UsageError } from '../io.ts';
import { dayValue } from '../values.ts';

interface Flags {
  readonly out: string;
  readonly ruledOut?: boolean;
}

export function addMerge(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('merge')
    .summary("join the parts that 'tag --part' read")
    .description(
      "Joins the results of all parts of a session, read by 'tag --part K/N', into what a single run would have written. " +
        'It refuses if a part is missing or damaged, or was read by another version, with other options or from other spectra.',
    )
    .argument('<part...>', 'result folders of the parts, in any order')
    .requiredOption('--out <FOLDER>', 'folder for the joined results; created if missing')
    .option('--ruled-out', 'also list in pigments.csv the materials that a spectrum rules out')
    .addHelpText('after', examples(io.command, 'merge part-1 part-2 part-3 --out session-3-read'))
    .action(async (parts: string[], flags: Flags) => exit(await mergeParts(io, parts, flags)));
}

async function mergeParts(io: Io, parts: readonly string[], { out, ruledOut = false }: Flags): Promise<number> {
  const date = dayValue(io.env);
  const folders = parts.map((part) => resolve(io.cwd, part));
  if (folders.includes(resolve(io.cwd, out)))
    throw new UsageError(`--out ${out}: this is one of the parts; give another folder`);
  try {
    const { read, failures } = await merge(folders, resolve(io.cwd, out), {
      ...(date !== undefined && { date }),
      ruledOut,
    });
    for (const { file, reason } of failures) complain(io, `${file}: ${reason}`);
    io.stderr.write(`${read} ${read === 1 ? 'record' : 'records'} from ${parts.length} parts joined into ${out}\n`);
    return exitCodeOf(read, failures.length);
  } catch (error) {
    if (error instanceof MergeError) throw new UsageError(error.message, { cause: error });
    if (error instanceof OutputError) throw refusal(error);
    throw error;
  }
}

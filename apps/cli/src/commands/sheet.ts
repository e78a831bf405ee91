import { causeOf, findSpectra, type FoundFiles, SHEET, sheetTemplate } from '@limner/session';
import type { Command } from 'commander';
import { join, resolve } from 'node:path';
import { examples } from '../examples.ts';
import { complain, EXIT, exitCodeOf, type Io } from '../io.ts';
import { fileToWrite, save } from '../save.ts';

interface Flags {
  readonly out?: string;
  readonly force?: true;
}

export function addSheet(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('sheet')
    .summary('start a sample sheet from the file names')
    .description(
      "Writes samples.csv, the sample sheet that 'tag' reads, into a folder of spectra: a row per file, with sample, layer and " +
        'particle as far as the file name gives them (like S1-L2-g03). Check and complete it: layers are numbered from the ground up.',
    )
    .argument('<folder>', 'folder with spectra')
    .option('--out <FILE>', "write the sheet here; '-' is standard output")
    .option('--force', 'replace an existing sheet')
    .addHelpText('after', examples(io.command, 'sheet session-3'))
    .action(async (folder: string, flags: Flags) => exit(await writeSheet(io, folder, flags)));
}

async function writeSheet(io: Io, folder: string, flags: Flags): Promise<number> {
  const file = fileToWrite('sheet', { out: join(folder, SHEET), ...flags });
  const from = resolve(io.cwd, folder);
  let found: FoundFiles;
  try {
    found = await findSpectra(from);
  } catch (error) {
    complain(io, `${folder}: ${causeOf(error).replace('no such file', 'no such folder')}`);
    return EXIT.nothingRead;
  }
  const { spectra, unread } = found;
  for (const { file, reason } of unread) complain(io, `${file}: ${reason}`);
  if (spectra.length === 0) {
    complain(io, `${folder}: no spectrum found; give the folder that the spectra were exported to`);
    return EXIT.nothingRead;
  }
  const text = sheetTemplate(spectra);
  if (file === null) io.stdout.write(text);
  else {
    await save(resolve(io.cwd, file), file, text, flags.force ?? false);
    io.stderr.write(`${file}: ${spectra.length} rows; check them and fill in what the names do not give\n`);
  }
  return exitCodeOf(spectra.length, unread.length);
}

import { readReference } from '@limner/core';
import {
  causeInWriting,
  messageOf,
  readBytes,
  referenceMaterial,
  SHEET,
  SheetError,
  sheetWithReference,
  spectrumFrom,
} from '@limner/session';
import type { Command } from 'commander';
import { mkdir, readFile } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { examples } from '../examples.ts';
import { complain, EXIT, type Io, UsageError, WriteError } from '../io.ts';
import { save } from '../save.ts';

interface Flags {
  readonly is: string;
  readonly to: string;
  readonly force?: true;
}

export function addReference(program: Command, io: Io, exit: (code: number) => void): void {
  const reference = program
    .command('reference')
    .helpCommand(false)
    .summary('keep spectra of known materials, to compare grains with')
    .description(
      `Keeps reference grains: a plain folder of spectra with a sample sheet, ${SHEET}, whose column 'known' says what each is. ` +
        "'identify --references FOLDER' and 'tag' compare grains with those measured at the same beam energy and take-off angle.",
    );
  reference
    .command('add')
    .summary('add a spectrum of a known material')
    .description('Copies a spectrum into a folder of references, and enters what it is in the sheet there.')
    .argument('<file>', 'spectrum of the known material')
    .requiredOption(
      '--is <FORMULA>',
      "what it is: a formula, or formulas with percentages by mass, like 'SiO2 72; Na2O 14; CaO 14'",
    )
    .option('--to <FOLDER>', 'folder of the references; created if missing', 'references')
    .option('--force', 'add it even if its counts contradict the label')
    .addHelpText('after', examples(io.command, 'reference add yellow-03.msa --is PbCrO4'))
    .action(async (file: string, flags: Flags) => exit(await addFile(io, file, flags)));
}

async function addFile(io: Io, file: string, { is, to, force }: Flags): Promise<number> {
  const folder = resolve(io.cwd, to);
  const name = basename(file);
  const sheet = await sheetWith(join(folder, SHEET), name, is);
  let bytes: Uint8Array;
  let contradictions: readonly string[];
  try {
    bytes = await readBytes(resolve(io.cwd, file), file);
    const known = referenceMaterial(is);
    ({ contradictions } = readReference(spectrumFrom(bytes, { name }, file), { name, label: is, known }));
  } catch (error) {
    complain(io, messageOf(error));
    return EXIT.nothingRead;
  }
  for (const one of contradictions) complain(io, `${file}: ${one}`);
  if (contradictions.length > 0 && !force)
    throw new UsageError(`${file}: its counts contradict '${is}'; check the label, or add --force to keep it anyway`);
  await mkdir(folder, { recursive: true }).catch((error: unknown) => {
    throw new WriteError(`${to}: cannot be created: ${causeInWriting(error)}`, { cause: error });
  });
  await save(join(folder, name), join(to, name), bytes, 'never');
  await save(join(folder, SHEET), join(to, SHEET), sheet, true);
  io.stderr.write(`${join(to, name)}: kept as ${is}\n`);
  return EXIT.done;
}

/** The sheet of the folder with a row more. @throws UsageError where the label, or the sheet, will not do */
async function sheetWith(path: string, name: string, label: string): Promise<string> {
  const before = await readFile(path, 'utf8').catch(() => null);
  try {
    return sheetWithReference(before, name, label);
  } catch (error) {
    const what = error instanceof SheetError ? '' : `--is ${label}: `;
    throw new UsageError(`${what}${messageOf(error)}`, { cause: error });
  }
}

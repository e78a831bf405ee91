import { identify, type IdentifyOptions, readingText } from '@limner/core';
import { causeOf, findSpectra, type FoundFiles, isResults, messageOf } from '@limner/session';
import type { Command } from 'commander';
import { stat } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { examples } from '../examples.ts';
import { addReadingOptions, readInput, type ReadingFlags, type ReadingOptions, readingOptions } from '../inputs.ts';
import { complain, EXIT, type Io, UsageError, widthOf } from '../io.ts';
import { referencesOf } from '../references.ts';
import { DEFAULT_PORT, LOOPBACK, portToUse, serve, type Served } from '../serve.ts';

/** The demo spectrum that is printed, a light yellow grain: two metals whose lines each have rivals. */
const TELLING_DEMO = 'P1-L3-g03.msa';
const DEMO = fileURLToPath(new URL('../../../../data/demo', import.meta.url));

interface Flags extends ReadingFlags {
  readonly out?: string;
}

export function addShow(program: Command, io: Io, exit: (code: number) => void): void {
  const command = program
    .command('show')
    .summary('print the reading of one spectrum and serve the viewer for all')
    .description(
      'Prints the reading of the first spectrum and serves the viewer for all of them on 127.0.0.1 until you press Ctrl-C. A folder of spectra is read as a ' +
        "session, as 'tag' reads it; a folder of results is shown without reading anything again. Without files, the demo session is shown. " +
        `The environment variable PORT sets the port (default ${DEFAULT_PORT}, or the next free one).`,
    )
    .argument('[files...]', 'spectra, folders with spectra, or a folder of results')
    .option('--out <FOLDER>', "folder that keeps a session's results, shared with tag (default: a temporary one)");
  addReadingOptions(command)
    .addHelpText(
      'after',
      examples(io.command, 'show grain-07.msa', 'show session-3-read', 'show session-3 --out session-3-read'),
    )
    .action(async (files: string[], flags: Flags) => exit(await show(io, files, flags)));
}

async function show(io: Io, names: readonly string[], flags: Flags): Promise<number> {
  const port = await portToUse(io, LOOPBACK);
  const [name] = names;
  if (name !== undefined && names.length === 1 && (await isResults(resolve(io.cwd, name))))
    return showResults(io, name, flags, port);
  const given = await readingOptions(io, flags);
  const references = flags.references === undefined ? [] : await referencesOf(io, flags.references, given);
  const options: IdentifyOptions = { ...given.options, ...(references.length > 0 && { references }) };
  const { files, missing, folder } = await expand(io, names.length > 0 ? names : [DEMO]);
  const telling = names.length > 0 ? [] : files.filter((file) => basename(file) === TELLING_DEMO);
  const { text, unreadable } = await firstReading(io, [...telling, ...files], { ...given, options });
  if (text === null) return EXIT.nothingRead;
  io.stdout.write(text);
  const { createViewer, openSession } = await import('@limner/viewer');
  const inFolder = {
    ...given,
    ...(flags.out !== undefined && { out: resolve(io.cwd, flags.out) }),
    ...(flags.references !== undefined && { referenceFolder: resolve(io.cwd, flags.references) }),
  };
  const session = folder !== null && files.length > 1 ? openSession(folder, inFolder) : undefined;
  const paths = files.map((file) => resolve(io.cwd, file));
  const stated = { options, ...(given.axis && { axis: given.axis }) };
  // Beside the records where a folder keeps them, else beside the spectra.
  const notes = session && inFolder.out !== undefined ? { notes: inFolder.out } : {};
  const shown = { files: paths, stated, ...notes, ...(folder !== null && { folder }), ...(session && { session }) };
  await serveViewer(io, port, await createViewer(shown));
  return missing + unreadable > 0 ? EXIT.someFailed : EXIT.done;
}

/** What `tag` made, as it is. */
async function showResults(io: Io, name: string, flags: Flags, port: number): Promise<number> {
  const [flag] = Object.keys(flags);
  if (flag !== undefined)
    throw new UsageError(
      `--${flag} cannot be used here: ${name} holds results, read with the options in its manifest; give the folder of the spectra to read them again`,
    );
  const { createViewer, openResults } = await import('@limner/viewer');
  const kept = await openResults(resolve(io.cwd, name));
  io.stdout.write(`${kept.summary}\n`);
  await serveViewer(
    io,
    port,
    await createViewer({ files: [], session: kept.session, opened: kept.opened, notes: resolve(io.cwd, name) }),
  );
  return EXIT.done;
}

const serveViewer = (io: Io, port: number, viewer: Served): Promise<void> =>
  serve(
    io,
    viewer,
    { host: LOOPBACK, port },
    (address) => `\nThe viewer is at ${address} (press Ctrl-C to stop it).\n`,
  );

interface Expanded {
  readonly files: readonly string[];
  /** Names that led to no file; each was told. */
  readonly missing: number;
  /** The folder that they are the spectra of, where one folder was named and nothing else. */
  readonly folder: string | null;
}

/** Files as they are; folders as the spectra in them. */
async function expand(io: Io, names: readonly string[]): Promise<Expanded> {
  const files: string[] = [];
  let missing = 0;
  let folder: string | null = null;
  for (const name of names) {
    const path = resolve(io.cwd, name);
    const info = await stat(path).catch(() => null);
    if (info === null) {
      complain(io, `${name}: there is no such file or folder; check the name`);
      missing++;
    } else if (info.isDirectory()) {
      if (names.length === 1) folder = path;
      const { spectra, unread } = await foundIn(path);
      for (const { file, reason } of unread) complain(io, `${join(name, file)}: ${reason}`);
      if (spectra.length + unread.length === 0) complain(io, `${name}: no spectrum found`);
      missing += spectra.length === 0 ? 1 : unread.length;
      files.push(...spectra.map((spectrum) => join(name, spectrum)));
    } else {
      files.push(name);
    }
  }
  return { files, missing, folder };
}

/** A folder that cannot be read is itself what is not read. */
async function foundIn(path: string): Promise<Pick<FoundFiles, 'spectra' | 'unread'>> {
  return findSpectra(path).catch((error: unknown) => ({ spectra: [], unread: [{ file: '', reason: causeOf(error) }] }));
}

/** The reading of the first file that can be read; those before it are told. */
async function firstReading(
  io: Io,
  files: readonly string[],
  { axis, options }: ReadingOptions,
): Promise<{ text: string | null; unreadable: number }> {
  let unreadable = 0;
  for (const file of files) {
    try {
      const record = identify(await readInput(io, file, axis), options);
      return { text: readingText(record, { width: widthOf(io), command: io.command }), unreadable };
    } catch (error) {
      complain(io, messageOf(error));
      unreadable++;
    }
  }
  return { text: null, unreadable };
}

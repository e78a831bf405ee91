import type { Command } from 'commander';
import { resolve } from 'node:path';
import { classroom } from '../classroom/files.ts';
import { isLoopback, roomValue, roomWarning } from '../classroom/room.ts';
import { examples } from '../examples.ts';
import { EXIT, type Io, UsageError } from '../io.ts';
import { newFolder } from '../new-folder.ts';
import { DEFAULT_PORT, LOOPBACK, portToUse, serve } from '../serve.ts';

interface Flags {
  readonly out?: string;
  readonly serve?: true;
  readonly toRoom?: string;
}

export function addTeach(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('teach')
    .summary('write or serve a classroom: bench, lessons, handouts, wall chart')
    .description(
      'Writes a folder that works from a memory stick, with nothing to install and no network: the overlap bench with its ' +
        'lessons, a handout for each lesson and a wall chart of overlaps. The answers are in separate files (answer-*.js), which the bench loads once a student ' +
        'has committed to a prediction. Anyone who opens such a file can read it: delete these files from a folder to be handed out without answers. ' +
        `With --serve nothing is written: the same files are served on ${LOOPBACK} until you press Ctrl-C. The environment variable PORT sets the port ` +
        `(default ${DEFAULT_PORT}, or the next free one).`,
    )
    .option('--out <FOLDER>', 'new folder')
    .option('--serve', 'serve it instead, to this machine only')
    .option(
      '--to-room <ADDRESS>',
      'with --serve: serve it, unencrypted, to the network of this address of the machine; first ask whoever runs that network',
    )
    .addHelpText('after', examples(io.command, 'teach --out classroom', 'teach --serve'))
    .action(async (flags: Flags) => {
      const { out, toRoom } = flags;
      if ((out === undefined) === (flags.serve === undefined))
        throw new UsageError('teach: give either --out and a new folder, or --serve');
      if (toRoom !== undefined && out !== undefined) throw new UsageError('teach: --to-room goes with --serve');
      if (out === undefined) await serveRoom(io, toRoom === undefined ? LOOPBACK : roomValue('--to-room', toRoom));
      else await writeFolder(io, out);
      exit(EXIT.done);
    });
}

async function writeFolder(io: Io, out: string): Promise<void> {
  if (out === '-') throw new UsageError('teach: --out needs a folder');
  await newFolder(resolve(io.cwd, out), out, await classroom('folder'));
  io.stderr.write(`${out}: open START-HERE.html\n`);
}

async function serveRoom(io: Io, host: string): Promise<void> {
  const port = await portToUse(io, host);
  const files = await classroom('server');
  const { createClassroom } = await import('@limner/viewer');
  if (!isLoopback(host)) io.stderr.write(roomWarning(host));
  const told = (address: string): string =>
    `The bench is at ${address}/ and the pages to print are at ${address}/START-HERE.html (press Ctrl-C to stop it).\n`;
  await serve(io, createClassroom(files, host), { host, port }, told);
}

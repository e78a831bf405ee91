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
    .summary('the classroom: bench, lessons, handouts, wall chart, in a folder or served')
    .description(
      'Writes a folder that opens from a memory stick, without installing anything and without a network: the overlap bench with its ' +
        'lessons, a handout per lesson and a wall chart of overlaps. The answers lie in files of their own (answer-*.js), which the bench loads once a student ' +
        'has committed to a prediction; who opens such a file can read it, so leave them out of a folder that is to be handed out without answers. ' +
        `With --serve nothing is written: the same is served on ${LOOPBACK} until Ctrl-C. The environment variable PORT sets the port ` +
        `(default ${DEFAULT_PORT}, or the next free one).`,
    )
    .option('--out <FOLDER>', 'new folder')
    .option('--serve', 'serve it instead, to this machine alone')
    .option(
      '--to-room <ADDRESS>',
      'with --serve: to the network of this address of the machine, unencrypted; ask whoever runs that network',
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
    `The bench is at ${address}/ and what to print at ${address}/START-HERE.html (Ctrl-C ends it).\n`;
  await serve(io, createClassroom(files, host), { host, port }, told);
}

import { causeInWriting } from '@limner/session';
import { EXIT } from './io.ts';
import { run } from './run.ts';
import { startedAs } from './started-as.ts';

/** Runs the command line on the process's own arguments and streams, and sets its exit code. */
export async function main(): Promise<void> {
  const { argv, env, stdin, stdout, stderr } = process;
  // A reader that has seen enough (`| head`) closes the pipe: that ends the run quietly.
  for (const stream of [stdout, stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EPIPE') process.exit();
      if (stream === stdout) stderr.write(`limner: standard output cannot be written: ${causeInWriting(error)}\n`);
      process.exit(EXIT.notWritten);
    });
  }
  const cwd = env['npm_lifecycle_event'] === 'start' ? (env['INIT_CWD'] ?? process.cwd()) : process.cwd();
  const interrupted = (): Promise<void> =>
    new Promise((done) => {
      for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => done());
    });
  process.exitCode = await run(argv.slice(2), {
    stdin,
    stdout,
    stderr,
    cwd,
    env,
    command: startedAs(argv[1] ?? '', env),
    interrupted,
  });
}

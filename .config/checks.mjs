// Types, linter and formatter side by side, before the tests; what each says is printed when it ends. Exit code 1 where one finds something.
import { spawn } from 'node:child_process';

const ended = await Promise.all(
  ['typecheck', 'lint', 'format:check'].map(
    (script) =>
      new Promise((done) => {
        const child = spawn('npm', ['run', '--silent', script], { shell: process.platform === 'win32' });
        let said = '';
        for (const stream of [child.stdout, child.stderr]) stream.on('data', (text) => (said += text));
        child.on('close', (code) => {
          if (said !== '') console.error(said.trimEnd());
          if (code !== 0) console.error(`npm run ${script} found something: see above.`);
          done(code);
        });
      }),
  ),
);
process.exitCode = ended.every((code) => code === 0) ? 0 : 1;

// `npm run docs` makes the reference pages. Here only that it could: every public name of core is documented, and every link leads somewhere.
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

it('every public name of core is documented', { timeout: 240_000 }, async () => {
  const args = ['node_modules/typedoc/bin/typedoc', '--options', '.config/typedoc.json', '--emit', 'none'];
  const { stdout, stderr } = await promisify(execFile)(process.execPath, args, { cwd: root }).catch(
    (fault: unknown) => fault as { stdout: string; stderr: string },
  );
  expect((stdout + stderr).match(/.*(?:warning|error).*/g)).toBeNull();
});

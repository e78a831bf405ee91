// Compiles kernel.as into src/fit/kernel-code.ts. Only who changes kernel.as needs it: npx fetches the compiler then.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const COMPILER = 'assemblyscript@0.28.20';
const OPTIONS = ['-O3', '--noAssert', '--runtime', 'stub', '--enable', 'simd', '--initialMemory', '1'];

const folder = mkdtempSync(join(tmpdir(), 'limner-kernel-'));
try {
  copyFileSync(here('kernel.as'), join(folder, 'kernel.ts'));
  const asc = ['--yes', '--package', COMPILER, 'asc', 'kernel.ts', '-o', 'kernel.wasm', ...OPTIONS];
  execFileSync('npx', asc, { cwd: folder, stdio: 'inherit' });
  const code = readFileSync(join(folder, 'kernel.wasm')).toString('hex');
  const source = createHash('sha256')
    .update(readFileSync(here('kernel.as')))
    .digest('hex');
  writeFileSync(
    here('../src/fit/kernel-code.ts'),
    [
      '// Made by packages/core/kernel/build.mjs from kernel.as; do not edit.',
      '',
      '/** SHA-256 of the source. */',
      `export const SOURCE = '${source}';`,
      '',
      '/** The compiled module, hexadecimal. */',
      'export const CODE =',
      `  '${code}';`,
      '',
    ].join('\n'),
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}

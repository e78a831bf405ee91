// Several workers of a test run, or two people, may build the page at once: neither takes away what the other is writing.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const PAGE = `${root}apps/viewer/dist/page`;

it('a build of the page leaves alone what another one is writing, and removes what is out of date', () => {
  mkdirSync(PAGE, { recursive: true });
  const written = ['plotly-9.9.9.js.1.partial', 'answer-99-none.js.1.partial'].map((name) => `${PAGE}/${name}`);
  const old = ['plotly-0.0.0.js', 'plotly-0.0.0.js.gz', 'answer-99-none.js'].map((name) => `${PAGE}/${name}`);
  for (const path of [...written, ...old]) writeFileSync(path, '');
  try {
    execFileSync(process.execPath, [`${root}apps/viewer/bundle-page.mjs`], { stdio: 'ignore' });
    expect(written.filter((path) => !existsSync(path))).toEqual([]);
    expect(old.filter((path) => existsSync(path))).toEqual([]);
  } finally {
    for (const path of written) rmSync(path, { force: true });
  }
});

import { MATERIALS } from '@limner/core/data';
import { identify, readSpectrum, summary } from '@limner/core';
import { execFile } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';

const root = new URL('../', import.meta.url);
const READMES = [
  'README.md',
  ...['packages/core', 'packages/session', 'apps/cli', 'apps/viewer'].map((at) => `${at}/README.md`),
];
const text = (page: string): string => readFileSync(new URL(page, root), 'utf8');

describe('what the pages say', () => {
  it.each([...READMES, 'DEVELOPERS.md', 'data/README.md', 'tests/statistics/README.md'])(
    '%s links to files that are there',
    (page) => {
      const links = [...text(page).matchAll(/\]\((?!https?:|#)([^)#]+)\)/g)].map(([, link]) => link);
      expect(links.filter((link) => !existsSync(new URL(link, new URL(page, root))))).toEqual([]);
    },
  );

  // Needs `npm run build`. Where a block prints something else on purpose, `node tests/readme-blocks.mjs --write` renews it. Those of core are run by
  // tests/packed-core.test.ts.
  it.each(READMES.filter((page) => !page.startsWith('packages/core/')))(
    'every code block of %s runs, and prints what it shows',
    async (page) => {
      const script = fileURLToPath(new URL('tests/readme-blocks.mjs', root));
      const { stderr } = await promisify(execFile)(process.execPath, [script, page]).catch(
        (fault: unknown) => fault as Error & { stderr: string },
      );
      expect(stderr).toBe('');
    },
  );

  it('README is at most 900 words, at 100 columns', () => {
    expect(text('README.md').trim().split(/\s+/).length).toBeLessThanOrEqual(900);
    expect(
      text('README.md')
        .split('\n')
        .filter((line) => [...line].length > 100),
    ).toEqual([]);
  });

  it('README promises no more materials than there are', () => {
    expect(text('README.md')).toContain('Matches over 250 paint materials');
    expect(MATERIALS.length).toBeGreaterThan(250);
  });

  it('names no material on what resin alone brings', () => {
    const blank = readSpectrum(readFileSync(new URL('data/demo/P2-M-blank.msa', root)));
    expect(summary(identify(blank))).not.toMatch(/Best fit/);
  });

  it.each(['packages/core/src', 'packages/core/src/emission', 'packages/session/src'])(
    'DEVELOPERS maps every folder of %s',
    (folder) => {
      const folders = readdirSync(new URL(folder, root), { withFileTypes: true }).filter((entry) =>
        entry.isDirectory(),
      );
      for (const { name } of folders) expect(text('DEVELOPERS.md')).toMatch(new RegExp(`\`(emission/)?${name}/?\``));
    },
  );
});

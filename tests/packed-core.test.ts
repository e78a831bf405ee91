// @limner/core as someone else would have it: packed, unpacked into an empty folder with what it says it needs and nothing else, run by Node and
// bundled for a browser.
import { execFile } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import type { Browser } from 'playwright-core';
import { rolldown } from 'rolldown';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, launchChromium } from './browser/chromium.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const readme = readFileSync(join(root, 'packages/core/README.md'), 'utf8');
const grain = join(root, 'data/demo/P1-L3-g03.msa');
const browser: Browser | null = await launchChromium();

const folder = mkdtempSync(join(tmpdir(), 'limner-packed-'));
const installed = join(folder, 'node_modules/@limner/core');
const run = async (command: string, ...args: string[]): Promise<string> =>
  (await promisify(execFile)(command, args, { cwd: folder })).stdout;

beforeAll(async () => {
  await run('npm', 'pack', join(root, 'packages/core'), '--pack-destination', folder, '--silent');
  const tarball = readdirSync(folder).find((name) => name.endsWith('.tgz'))!;
  writeFileSync(join(folder, 'package.json'), '{ "private": true, "type": "module" }');
  mkdirSync(installed, { recursive: true });
  await run('tar', '-xzf', tarball, '--strip-components=1', '-C', installed);
  const { dependencies } = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8')) as {
    dependencies: Record<string, string>;
  };
  for (const name of Object.keys(dependencies)) {
    const place = join(folder, 'node_modules', name);
    mkdirSync(dirname(place), { recursive: true });
    symlinkSync(join(root, 'node_modules', name), place);
  }
  cpSync(grain, join(folder, 'grain-07.msa'));
});
afterAll(async () => {
  await closePages();
  rmSync(folder, { recursive: true, force: true });
});

const POLL = { timeout: 120_000 };
/** A secure context, which a blank page is not: the peak search asks the browser for `crypto.randomUUID`. */
const PAGE = 'http://localhost/';

/** Blocks of the README of one kind, and the text that follows each. */
const blocks = (kind: string): { code: string; output: string | undefined }[] =>
  [...readme.matchAll(/^```(.*)\n([\s\S]*?)^```(?:\n\n```text\n([\s\S]*?)^```)?/gm)]
    .filter((match) => match[1] === kind)
    .map(([, , code, output]) => ({ code, output }));

const files = (): string[] => readdirSync(installed, { recursive: true, encoding: 'utf8' });

describe('the packed core', () => {
  it('has a README, the licence of the whole, the schema, and no source map', () => {
    expect(files()).toEqual(expect.arrayContaining(['README.md', 'LICENSE', 'schema/limner-record-1.schema.json']));
    expect(readFileSync(join(installed, 'LICENSE'), 'utf8')).toBe(readFileSync(join(root, 'LICENSE'), 'utf8'));
    expect(files().filter((name) => /\.map$|\.tsbuildinfo$|\.test\./.test(name))).toEqual([]);
    const scripts = files().filter((name) => name.endsWith('.js'));
    expect(scripts.length).toBeGreaterThan(100);
    expect(scripts.filter((name) => /sourceMappingURL/.test(readFileSync(join(installed, name), 'utf8')))).toEqual([]);
  });

  it('has a file, with types, behind each of its exports', () => {
    const { exports } = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8')) as {
      exports: Record<string, string | Record<string, string>>;
    };
    expect(Object.keys(exports)).toEqual(['.', './data', './schema', './package.json']);
    const targets = Object.values(exports).flatMap((to) =>
      typeof to === 'string' ? to : [to['types'], to['default']],
    );
    expect(targets.filter((path) => !existsSync(join(installed, path)))).toEqual([]);
  });

  it('prints under Node what its README says', async () => {
    const examples = blocks('js');
    expect(examples).toHaveLength(5);
    for (const { code, output } of examples) {
      writeFileSync(join(folder, 'example.js'), code);
      expect(await run(process.execPath, 'example.js')).toBe(output);
    }
  });

  it('gives its schema to who asks for it', async () => {
    const code = `import schema from '@limner/core/schema' with { type: 'json' }; console.log(schema.properties.schema.const);`;
    writeFileSync(join(folder, 'schema.js'), code);
    expect(await run(process.execPath, '--no-warnings', 'schema.js')).toBe('limner-record/1\n');
  });

  it.skipIf(!browser)('reads a file in a page as its README shows, in the same words as under Node', async () => {
    const [{ code }, ...more] = blocks('js browser');
    expect(more).toEqual([]);
    writeFileSync(join(folder, 'page.js'), code);
    const bundle = await rolldown({ input: join(folder, 'page.js'), platform: 'browser' });
    const { output } = await bundle.generate({ format: 'iife' });
    const page = await browser!.newPage();
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(error.message));
    await page.route(PAGE, (route) => route.fulfill({ contentType: 'text/html', body: '<input type="file"><output>' }));
    await page.goto(PAGE);
    await page.addScriptTag({ content: output[0].code });
    await page.setInputFiles('input', grain);
    await expect.poll(async () => faults.join() || (await page.locator('output').textContent()), POLL).not.toBe('');
    expect(faults).toEqual([]);

    const node = `import { readFileSync } from 'node:fs'; import { identify, readSpectrum, summary } from '@limner/core';
      process.stdout.write(summary(identify(readSpectrum(readFileSync('grain-07.msa')))));`;
    writeFileSync(join(folder, 'same.js'), node);
    expect(await page.locator('output').textContent()).toBe(await run(process.execPath, 'same.js'));
  });
});

import { createViewer, openSession } from '@limner/viewer';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { doJob } from '../../apps/viewer/server/jobs.ts';
import { plainReading } from '../../apps/viewer/server/plain.ts';
import { limner } from '../fixtures/cli.ts';
import { fixtureReading } from './fixture.ts';

/** A small valid EMSA/MAS file: two Gaussians (iron K-L3, silicon K) on a slope, invented. */
export function emsaText(title: string): string {
  const counts = Array.from({ length: 1024 }, (_, i) => {
    const peak = (ev: number, height: number) => height * Math.exp(-0.5 * ((i * 20 - ev) / 55) ** 2);
    return Math.round(400 * Math.exp(-i / 250) * Math.min(1, i / 40) + peak(6404, 900) + peak(1740, 1500));
  });
  const head = [
    '#FORMAT      : EMSA/MAS Spectral Data File',
    '#VERSION     : 1.0',
    `#TITLE       : ${title}`,
    `#NPOINTS     : ${counts.length}`,
    '#NCOLUMNS    : 1',
    '#XUNITS      : eV',
    '#YUNITS      : counts',
    '#DATATYPE    : Y',
    '#XPERCHAN    : 20',
    '#OFFSET      : 0',
    '#SIGNALTYPE  : EDS',
    '#BEAMKV      : 20',
    '#LIVETIME    : 60',
    '#SPECTRUM    :',
  ];
  return `${[...head, ...counts.map(String), '#ENDOFDATA   :'].join('\n')}\n`;
}

/** A folder with two good files, a bad one and a neighbour that is not on show; `remove` takes it away. */
export function stageFiles() {
  const folder = mkdtempSync(join(tmpdir(), 'limner-page-'));
  const write = (name: string, text: string) => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  write('private.msa', emsaText('Not on show'));
  const files = [
    write('yellow grain.msa', emsaText('Yellow grain')),
    write('second.msa', emsaText('Second grain')),
    write('broken.msa', 'This is a letter, not a spectrum.\n'),
  ];
  return { folder, files, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** The folder that `limner teach` writes; `remove` takes it away. */
export async function stageClassroom() {
  bundlePage();
  const above = mkdtempSync(join(tmpdir(), 'limner-teach-'));
  const folder = join(above, 'classroom');
  const { code, stderr } = await limner(['teach', '--out', folder]);
  if (code !== 0) throw new Error(stderr);
  const address = (hash: string): string => `${pathToFileURL(join(folder, 'index.html')).href}#${hash}`;
  return { folder, address, remove: () => rmSync(above, { recursive: true, force: true }) };
}

let bundled = false;

/** The page as bundled from the present source, once for all files of a worker. */
export function bundlePage(): void {
  if (bundled) return;
  bundled = true;
  execFileSync(process.execPath, [fileURLToPath(new URL('../../apps/viewer/bundle-page.mjs', import.meta.url))]);
}

/** A viewer whose session shows the hand-made reading. */
export const fixtureViewer = (files: readonly string[]) =>
  createViewer({
    files,
    compute: (job) =>
      job.kind === 'title' ? doJob(job) : JSON.stringify(plainReading(fixtureReading(job.bytes, job.name))),
  });

/** The page over those files, with the hand-made reading, listening; `end` takes all of it away. */
export async function servedStage() {
  bundlePage();
  const { files, folder, remove } = stageFiles();
  const app = await fixtureViewer(files);
  const origin = await app.listen({ host: '127.0.0.1', port: 0 });
  const end = async (): Promise<void> => {
    await app.close();
    remove();
  };
  return { origin, folder, end };
}

/** The page over files of these names and texts, read by core, listening; `end` takes all of it away. @param asSession read as a whole too */
export async function servedFiles(files: Readonly<Record<string, string>>, asSession = false) {
  bundlePage();
  const folder = mkdtempSync(join(tmpdir(), 'limner-served-'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  const spectra = Object.keys(files).filter((name) => name.endsWith('.msa'));
  const app = await createViewer({
    files: spectra.map((name) => join(folder, name)),
    ...(asSession && { session: openSession(folder) }),
  });
  const origin = await app.listen({ host: '127.0.0.1', port: 0 });
  const end = async (): Promise<void> => {
    await app.close();
    rmSync(folder, { recursive: true, force: true });
  };
  return { app, origin, folder, end };
}

/** A page that remembers what went wrong in it: console errors, exceptions, requests to anywhere but the viewer. */
export async function watchedPage(
  browser: Browser,
  origin: string,
  width = 1400,
): Promise<{ page: Page; faults: string[] }> {
  const context = await browser.newContext({ viewport: { width, height: 900 }, acceptDownloads: true });
  const page = await context.newPage();
  // The machine may be busy.
  page.setDefaultTimeout(120_000);
  const faults: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') faults.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => faults.push(`exception: ${error.message}`));
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(`${origin}/`) && !/^(data|blob):/.test(url)) faults.push(`request to ${url}`);
  });
  return { page, faults };
}

/** Drops files on the page, as a hand would. */
export async function drop(page: Page, files: readonly { name: string; text: string }[]): Promise<void> {
  const transfer = await page.evaluateHandle((given) => {
    const data = new DataTransfer();
    for (const { name, text } of given) data.items.add(new File([text], name));
    return data;
  }, files);
  await page.dispatchEvent('main', 'dragover', { dataTransfer: transfer });
  await page.dispatchEvent('main', 'drop', { dataTransfer: transfer });
}

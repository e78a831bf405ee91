import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith } from '../../../../tests/fixtures/folder.ts';
import { invented } from '../../../../tests/fixtures/record.ts';
import { derive, type Derived } from '../results/derive.ts';
import { Results } from '../results/results.ts';

const PROVENANCE = {
  circumstances: { software: { version: '0' }, options: {} } as never,
  part: null,
  sheet: null,
  date: '2025-01-01',
};

/** What the files say of one spectrum, its name a place to fill. */
const NAME = 'gNNNN.msa';
const ONE = JSON.stringify(derive(invented({ source: { name: NAME, sha256: 'a'.repeat(64), title: '' } })));

async function write(out: string, spectra: number): Promise<void> {
  const results = await Results.open(out, PROVENANCE);
  for (let i = 1; i <= spectra; i++) {
    const name = `g${String(i).padStart(4, '0')}.msa`;
    const derived = JSON.parse(ONE.replaceAll(NAME, name)) as Derived;
    await results.add({ kind: 'read', name, sha256: 'a'.repeat(64), derived });
  }
  await results.finish();
}

const pages = (out: string): string[] => readdirSync(out).filter((name) => name.startsWith('report'));
const read = (out: string, name: string): string => readFileSync(join(out, name), 'utf8');

it('a report of many spectra has a section for each, on further pages that the table and their neighbours lead to', async () => {
  const out = folderWith({});
  await write(out, 401);
  expect(pages(out).sort()).toEqual(['report-2.html', 'report-3.html', 'report.html']);
  const sections = pages(out).map((name) => read(out, name).match(/<section class="spectrum" id=/g)!.length);
  expect(sections.sort()).toEqual([1, 200, 200]);
  const links = [...read(out, 'report.html').matchAll(/<td><a href="([^"#]*)#([^"]+)"/g)];
  expect(links).toHaveLength(401);
  for (const [, page, anchor] of links)
    expect(read(out, page || 'report.html')).toContain(`<section class="spectrum" id="${anchor}">`);
  expect(read(out, 'report-2.html')).toMatch(
    /<a href="report\.html">Previous spectra<.*<a href="report-3\.html">Next spectra</,
  );
  expect(read(out, 'report-3.html')).not.toContain('Next spectra');
  const { outputs } = JSON.parse(read(out, 'manifest.json')) as { outputs: { name: string }[] };
  expect(outputs.map(({ name }) => name)).toEqual(expect.arrayContaining(pages(out)));
  expect(read(out, 'ro-crate-metadata.json')).toContain('"@id":"report-3.html"');
});

it('a report of fewer spectra takes away the further pages of an earlier one, but nobody else’s', async () => {
  const out = folderWith({});
  await write(out, 201);
  writeFileSync(join(out, 'report-7.html'), '<p>mine</p>');
  await write(out, 200);
  expect(pages(out).sort()).toEqual(['report-7.html', 'report.html']);
  expect(existsSync(join(out, 'manifest.json'))).toBe(true);
});

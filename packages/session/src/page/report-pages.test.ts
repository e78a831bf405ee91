import { parse } from 'csv-parse/sync';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith } from '../../../../tests/fixtures/folder.ts';
import { invented } from '../../../../tests/fixtures/record.ts';
import { SKETCH } from '../../../../tests/fixtures/sketch.ts';
import { derive, type Derived } from '../results/derive.ts';
import { Results } from '../results/results.ts';

const PROVENANCE = {
  circumstances: { software: { version: '0' }, options: {} } as never,
  part: null,
  sheet: null,
  date: '2025-01-01',
  notes: [],
};

const TOLD = { place: null, ruledOut: false };
/** What the files say of one spectrum, its name a place to fill. */
const NAME = 'gNNNN.msa';
const ONE = JSON.stringify(
  derive(invented({ source: { name: NAME, sha256: 'a'.repeat(64), title: '' } }), SKETCH, TOLD),
);

async function write(out: string, spectra: number): Promise<void> {
  const results = await Results.open(out, PROVENANCE);
  for (let i = 1; i <= spectra; i++) {
    const name = `g${String(i).padStart(4, '0')}.msa`;
    const named = JSON.parse(ONE.replaceAll(NAME, name)) as Derived;
    // Bytes do not come back from JSON; the pages need none.
    const derived = { ...named, tables: { ...named.tables, records: new Uint8Array() } };
    await results.add({ kind: 'read', name, sha256: `${i}`.padStart(64, '0'), derived });
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

it('a report tells the notes that stand, their tables too, and counts the same bytes once', async () => {
  const out = folderWith({});
  const sha256 = 'a'.repeat(64);
  const note = {
    file: 'a.msa',
    sha256,
    kind: 'element',
    id: 'Pb',
    by: 'A. Reader',
    at: '2026-11-28T10:01:00Z',
  } as const;
  const results = await Results.open(out, {
    ...PROVENANCE,
    notes: [
      { ...note, answer: 'accepted', reason: 'at first sight' },
      { ...note, answer: 'rejected', reason: 'a <stray> peak', at: '2026-11-28T10:02:00Z' },
      { ...note, file: 'b.msa', kind: 'material', id: 'chalk', answer: 'remark', reason: '', sha256: 'b'.repeat(64) },
    ],
  });
  for (const name of ['a.msa', 'b.msa']) {
    const record = invented({ source: { name, sha256, title: '' } });
    await results.add({ kind: 'read', name, sha256, derived: derive(record, SKETCH, TOLD) });
  }
  await results.finish();
  expect(results.copies).toEqual([{ file: 'b.msa', of: 'a.msa' }]);
  const report = read(out, 'report.html');
  expect(report).toContain('<b>lead</b> rejected by A. Reader, 2026-11-28 10:02\u00a0UTC: a &lt;stray&gt; peak</li>');
  expect(report).not.toContain('at first sight');
  expect(report).toContain('remark by A. Reader, 2026-11-28 10:01\u00a0UTC (made on another version of the file)');
  expect(report).toContain('2 read; 1\u00a0copy not counted again');
  expect(read(out, 'notes.csv').split('\n')[1]).toBe(
    `a.msa,element,Pb,rejected,a <stray> peak,A. Reader,2026-11-28T10:02:00Z,${sha256}`,
  );
  const [heading, first, second] = parse(read(out, 'grains.csv'));
  expect([first[heading.indexOf('judged')], first[heading.indexOf('copy_of')]]).toEqual(['Pb rejected', '']);
  expect(second.at(-2)).toBe('a.msa');
  expect(read(out, 'kind-members.csv')).not.toContain('b.msa');
});

import { Ajv } from 'ajv';
import { parse } from 'csv-parse/sync';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

const EPOCH = { SOURCE_DATE_EPOCH: '1750000000' };
/** The same spectrum, taken at a place. */
const at = (text: string, x: number, y: number): string =>
  text.replace('#NPOINTS', `#XPOSITION-mm: ${x}\n#YPOSITION-mm: ${y}\n#NPOINTS`);
const session = {
  'in/a.msa': at(emsaText('HgS'), 1, 2.1),
  'in/b.msa': at(emsaText('TiO2'), 1.01, 2),
  'in/broken, "very".msa': '',
  'in/deep/=c.msa': at(emsaText('CaCO3'), 0.98, 2.01),
  'in/samples.csv': 'file,sample,layer\na.msa,S1,2\nb.msa,S1,1\ndeep/=c.msa,S1,1\n',
  'in/.limner-notes.json': JSON.stringify({
    schema: 'limner-notes/1',
    notes: [
      {
        file: 'b.msa',
        sha256: '0'.repeat(64),
        kind: 'element',
        id: 'Ti',
        answer: 'accepted',
        reason: 'seen in the microscope',
        by: 'A. Reader',
        at: '2025-06-15T10:00:00Z',
      },
    ],
  }),
};
/** What stands in a folder for all to see. */
const shownIn = (folder: string): string[] => readdirSync(folder).filter((name) => !name.startsWith('.'));
const read = (cwd: string, name: string): string => readFileSync(join(cwd, name), 'utf8');

interface Entity {
  readonly '@id': string;
  readonly '@type': string | readonly string[];
  readonly [property: string]: unknown;
}

const idsIn = (value: unknown): string[] => {
  if (Array.isArray(value)) return value.flatMap(idsIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => (key === '@id' ? [String(inner)] : idsIn(inner)));
};

// What the standards demand is recalled, not read: RO-Crate 1.1 (sections 'Root Data Entity', 'Data Entities'), Data Package and Table
// Schema of the Frictionless specifications, version 1.
describe('a folder of results', () => {
  let cwd: string;
  beforeAll(async () => {
    cwd = lastingFolder();
    await limner(['tag', 'in', '--out', 'out'], { cwd, env: EPOCH });
    return () => rmSync(cwd, { recursive: true, force: true });
  });

  it('is an RO-Crate: a descriptor, a root with name, date, licence and all files, and no reference into nothing', () => {
    const crate = JSON.parse(read(cwd, 'out/ro-crate-metadata.json')) as { '@context': string; '@graph': Entity[] };
    expect(crate['@context']).toBe('https://w3id.org/ro/crate/1.1/context');
    const byId = new Map(crate['@graph'].map((entity) => [entity['@id'], entity]));
    expect(byId.size).toBe(crate['@graph'].length);
    expect(byId.get('ro-crate-metadata.json')).toMatchObject({
      '@type': 'CreativeWork',
      about: { '@id': './' },
      conformsTo: { '@id': 'https://w3id.org/ro/crate/1.1' },
    });
    const root = byId.get('./')!;
    expect(root).toMatchObject({ '@type': 'Dataset', datePublished: '2025-06-15' });
    for (const property of ['name', 'description', 'license']) expect(root[property]).toBeTruthy();
    const parts = idsIn(root['hasPart']);
    const files = shownIn(join(cwd, 'out'));
    expect([...parts, 'ro-crate-metadata.json'].sort()).toEqual(files.sort());
    for (const id of parts) {
      const { '@type': type, contentSize } = byId.get(id)!;
      expect(type).toBe('File');
      if (contentSize !== undefined) expect(Number(contentSize)).toBe(statSync(join(cwd, 'out', id)).size);
    }
    const known = new Set([...byId.keys(), 'https://w3id.org/ro/crate/1.1']);
    for (const entity of crate['@graph']) for (const id of idsIn(entity)) expect(known).toContain(id);
  });

  it('has a Table Schema for each table: its columns in order, its types in every cell, its keys unique', () => {
    interface Resource {
      readonly path: string;
      readonly schema: { readonly fields: readonly { name: string; type: string }[]; readonly primaryKey?: string[] };
    }
    const described = JSON.parse(read(cwd, 'out/datapackage.json')) as { resources: Resource[] };
    expect(described.resources.map(({ path }) => path).sort()).toEqual(
      readdirSync(join(cwd, 'out')).filter((name) => name.endsWith('.csv')),
    );
    const fits: Record<string, (cell: string) => boolean> = {
      string: () => true,
      number: (cell) => cell === '' || Number.isFinite(Number(cell)),
      integer: (cell) => cell === '' || Number.isInteger(Number(cell)),
    };
    for (const { path, schema } of described.resources) {
      const [heading, ...rows] = parse(read(cwd, `out/${path}`));
      expect(heading).toEqual(schema.fields.map(({ name }) => name));
      expect(rows.length).toBeGreaterThan(0);
      for (const row of rows)
        for (const [i, { type, name }] of schema.fields.entries())
          expect(fits[type](row[i]), `${path}, ${name}: ${row[i]}`).toBe(true);
      const keys = rows.map((row) => JSON.stringify(schema.primaryKey?.map((name) => row[heading.indexOf(name)])));
      if (schema.primaryKey) expect(new Set(keys).size).toBe(keys.length);
    }
  });

  it('has a manifest with the hash of every input and output, the versions and the options', () => {
    const manifest = JSON.parse(read(cwd, 'out/manifest.json')) as {
      inputs: { name: string; sha256: string; outcome: string }[];
      outputs: { name: string; sha256: string; bytes: number }[];
    };
    const validate = new Ajv().compile({
      type: 'object',
      required: ['schema', 'software', 'options', 'part', 'sheet', 'session', 'outputs', 'inputs'],
      properties: {
        schema: { const: 'limner-session/1' },
        software: { type: 'object', required: ['version', 'build', 'atomicData'] },
      },
    });
    expect(validate(manifest), JSON.stringify(validate.errors)).toBe(true);
    expect(manifest.inputs.map(({ outcome }) => outcome)).toEqual(['read', 'read', 'failed', 'read']);
    const hash = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex');
    for (const { name, sha256 } of manifest.inputs) expect(sha256).toBe(hash(join(cwd, 'in', name)));
    expect(manifest.outputs).toHaveLength(14);
    for (const { name, sha256 } of manifest.outputs) expect(sha256).toBe(hash(join(cwd, 'out', name)));
  });
});

/** The session in a folder that outlives a test. */
function lastingFolder(): string {
  const cwd = mkdtempSync(join(tmpdir(), 'limner-test-'));
  for (const [name, text] of Object.entries(session)) {
    mkdirSync(join(cwd, name, '..'), { recursive: true });
    writeFileSync(join(cwd, name), text);
  }
  return cwd;
}

describe('parts of a session', () => {
  const tagPart = (cwd: string, k: number, ...more: string[]) =>
    limner(['tag', 'in', '--part', `${k}/3`, '--out', `p${k}`, ...more], { cwd, env: EPOCH });

  it('are joined into what one run writes, to the byte, whatever their order', async () => {
    const cwd = folderWith(session);
    for (const k of [1, 2, 3]) await tagPart(cwd, k);
    await limner(['tag', 'in', '--out', 'whole'], { cwd, env: EPOCH });
    const merged = await limner(['merge', 'p2', 'p3', 'p1', '--out', 'merged'], { cwd, env: EPOCH });
    expect(merged).toMatchObject({ code: 1, stdout: '' });
    expect(merged.stderr).toMatch(/^limner: broken, "very"\.msa: .+\n3 records from 3 parts joined into merged\n$/);
    const names = readdirSync(join(cwd, 'whole')).filter((name) => name !== '.limner');
    for (const name of names) expect(read(cwd, `merged/${name}`), name).toBe(read(cwd, `whole/${name}`));
  });

  it('share the spectra by content alone', async () => {
    const [one, two] = [
      folderWith(session),
      folderWith({ 'in/z/9.msa': session['in/a.msa'], 'in/b.msa': session['in/b.msa'] }),
    ];
    const owner = async (cwd: string, name: string): Promise<number> => {
      for (const k of [1, 2, 3]) {
        await tagPart(cwd, k);
        if (read(cwd, `p${k}/records.ndjson`).includes(`"name":"${name}"`)) return k;
      }
      return 0;
    };
    expect(await owner(one, 'a.msa')).toBe(await owner(two, 'z/9.msa'));
  });

  it('are refused with gaps, twice, of other options, spectra or engines, changed, or unfinished', async () => {
    const cwd = folderWith(session);
    for (const k of [1, 2, 3]) await tagPart(cwd, k);
    await limner(['tag', 'in', '--out', 'whole'], { cwd });
    await limner(['tag', 'in', '--part', '3/3', '--out', 'other', '--mount', 'resin'], { cwd });
    const refused = async (parts: string[], message: RegExp): Promise<void> => {
      const { code, stderr } = await limner(['merge', ...parts, '--out', 'merged'], { cwd });
      expect(stderr).toMatch(message);
      expect(code).toBe(2);
      expect(existsSync(join(cwd, 'merged/records.ndjson'))).toBe(false);
    };
    await refused(['p1', 'p3'], /parts are missing: 2\/3; give these as well\n$/);
    await refused(['p1', 'p2', 'p2', 'p3'], /part 2\/3 is given twice/);
    await refused(['p1', 'p2', 'other'], /other: the options differ from those of /);
    await refused(['p1', 'p2', 'whole'], /whole: this is a whole session/);
    await refused(['p1', 'p2', 'gone'], /gone: no finished part is here/);
    const manifest = read(cwd, 'p3/manifest.json');
    expect(manifest).toContain(`"engine":"V8 `);
    writeFileSync(join(cwd, 'p3/manifest.json'), manifest.replace('"engine":"V8 ', '"engine":"V8 9'));
    await refused(
      ['p1', 'p2', 'p3'],
      /p3: the engines \(another version of Node\) differ from those of .*; read it again/,
    );
    writeFileSync(join(cwd, 'p3/manifest.json'), manifest);
    writeFileSync(join(cwd, 'p2/elements.csv'), `${read(cwd, 'p2/elements.csv')}x`);
    await refused(['p1', 'p2', 'p3'], /p2\/elements\.csv: it has changed since this part wrote it/);
    writeFileSync(join(cwd, 'in/b.msa'), emsaText('ZnO'));
    await tagPart(cwd, 2);
    await refused(['p1', 'p2', 'p3'], /the spectra differ from those of/);
  });

  it.each(['0/3', '4/3', '1', 'a/b', '1/0'])('--part %s is wrong usage', async (part) => {
    const { code, stderr } = await limner(['tag', '.', '--out', 'x', '--part', part]);
    expect({ code, stderr }).toEqual({
      code: 2,
      stderr: expect.stringMatching(/^limner: --part .*like 1\/8\n$/) as string,
    });
  });
});

import type { FastifyInstance } from 'fastify';
import { request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundlePage, emsaText, fixtureViewer, stageFiles } from './stage.ts';

let app: FastifyInstance;
let stage: ReturnType<typeof stageFiles>;

beforeAll(async () => {
  bundlePage();
  stage = stageFiles();
  app = await fixtureViewer(stage.files);
});
afterAll(async () => {
  await app.close();
  stage.remove();
});

const get = (url: string, headers: Record<string, string> = { host: '127.0.0.1:8080' }) => app.inject({ url, headers });

describe('the page and its parts', () => {
  it('come with a policy that allows nothing from elsewhere', async () => {
    const reply = await get('/');
    expect(reply.statusCode).toBe(200);
    expect(reply.body).toContain('<title>Limner</title>');
    const policy = String(reply.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/https?:|\*|'unsafe-eval'/);
  });

  it('name no address outside', async () => {
    const [page, style] = [await get('/'), await get('/style.css')];
    expect(page.body + style.body).not.toMatch(/https?:\/\/|url\(/);
  });
});

describe('what is large', () => {
  it.each(['/page.js', '/api/spectra/yellow%20grain.msa/reading'])(
    'goes out compressed to who takes that, and is the same then: %s',
    async (url) => {
      const plain = await get(url);
      const packed = await get(url, { host: '127.0.0.1:8080', 'accept-encoding': 'gzip, deflate, br' });
      expect(plain.headers['content-encoding']).toBeUndefined();
      expect(packed.headers['content-encoding']).toBe('gzip');
      expect([plain, packed].map(({ headers }) => headers['vary'])).toEqual(
        url === '/page.js' ? ['accept-encoding', 'accept-encoding'] : [undefined, 'accept-encoding'],
      );
      expect(packed.headers['content-type']).toBe(plain.headers['content-type']);
      expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length / 2.5);
      expect(gunzipSync(packed.rawPayload).equals(plain.rawPayload)).toBe(true);
    },
  );
});

describe('the session', () => {
  it('lists every file by its name, a bad one with its error', async () => {
    const list = (await get('/api/spectra')).json<{ name: string; title: string; error: string | null }[]>();
    expect(list.map(({ name, title }) => [name, title])).toEqual([
      ['yellow grain.msa', 'Yellow grain'],
      ['second.msa', 'Second grain'],
      ['broken.msa', ''],
    ]);
    expect(list.map(({ error }) => error === null)).toEqual([true, true, false]);
    expect(list[2].error).not.toContain(stage.folder);
  });

  it('gives a reading with curves as plain arrays that add up', async () => {
    const { record, curves } = (await get('/api/spectra/yellow%20grain.msa/reading')).json<{
      record: { schema: string };
      curves: { energyEv: number[]; total: number[]; background: number[]; layers: { counts: number[] }[] };
    }>();
    expect(record.schema).toBe('limner-record/1');
    expect(curves.energyEv).toHaveLength(2048);
    const at = 344;
    const sum = curves.layers.reduce((total, layer) => total + layer.counts[at], curves.background[at]);
    expect(Math.abs(sum - curves.total[at])).toBeLessThan(0.01);
  });

  it('tells plainly what is wrong with a bad file or an unknown name', async () => {
    const bad = await get('/api/spectra/broken.msa/reading');
    expect(bad.statusCode).toBe(422);
    expect(Object.keys(bad.json())).toEqual(['error']);
    const unknown = await get('/api/spectra/nowhere.msa/reading');
    expect([unknown.statusCode, unknown.json()]).toEqual([
      404,
      { error: 'No spectrum of this session is called "nowhere.msa".' },
    ]);
  });

  it('reads a file anew when it was exported anew', async () => {
    const file = join(stage.folder, 'second.msa');
    writeFileSync(file, emsaText('Second grain, measured again'));
    const list = (await get('/api/spectra')).json<{ title: string }[]>();
    expect(list[1].title).toBe('Second grain, measured again');
  });
});

describe('other sites', () => {
  const from = (site: string, more: Record<string, string> = {}) =>
    get('/api/spectra', { host: '127.0.0.1:8080', 'sec-fetch-site': site, ...more });

  it.each(['cross-site', 'same-site'])('get nothing: %s', async (site) => {
    expect((await from(site)).statusCode).toBe(403);
    expect((await from(site, { 'sec-fetch-mode': 'no-cors', 'sec-fetch-dest': 'script' })).statusCode).toBe(403);
  });

  it('may link to the page, and a person may type its address', async () => {
    const headers = { host: '127.0.0.1:8080', 'sec-fetch-mode': 'navigate', 'sec-fetch-dest': 'document' };
    for (const site of ['cross-site', 'none'])
      expect((await get('/', { ...headers, 'sec-fetch-site': site })).statusCode).toBe(200);
    // In a frame it is not the page that a person sees.
    expect(
      (await get('/', { ...headers, 'sec-fetch-site': 'cross-site', 'sec-fetch-dest': 'iframe' })).statusCode,
    ).toBe(403);
  });

  it('are known by their origin too', async () => {
    expect((await from('same-origin', { origin: 'http://127.0.0.1:8080' })).statusCode).toBe(200);
    for (const origin of ['http://127.0.0.1:8081', 'https://limner.example', 'null'])
      expect((await from('same-origin', { origin })).statusCode).toBe(403);
  });

  it.each(['POST', 'PUT', 'DELETE', 'OPTIONS'] as const)('cannot send anything: %s', async (method) => {
    const reply = await app.inject({ url: '/api/spectra', method, headers: { host: '127.0.0.1:8080' } });
    expect(reply.statusCode).toBe(405);
  });
});

describe('notes', () => {
  const note = {
    file: 'second.msa',
    sha256: 'a'.repeat(64),
    kind: 'element',
    id: 'Pb',
    answer: 'rejected',
    reason: 'a stray peak',
    by: 'A. Reader',
  };
  const own = { host: '127.0.0.1:8080', origin: 'http://127.0.0.1:8080', 'content-type': 'application/json' };
  const send = (payload: unknown, headers: Record<string, string> = own) =>
    app.inject({ url: '/api/notes', method: 'POST', headers, payload: JSON.stringify(payload) });
  const kept = () => existsSync(join(stage.folder, '.limner-notes.json'));

  it('are taken from the own page only, as JSON, whole and not too large', async () => {
    const nameless = { host: own.host, 'content-type': own['content-type'] };
    expect((await send(note, nameless)).statusCode).toBe(403);
    expect((await send(note, { ...own, origin: 'https://limner.example' })).statusCode).toBe(403);
    expect((await send(note, { ...own, 'sec-fetch-site': 'cross-site' })).statusCode).toBe(403);
    expect((await send(note, { ...own, host: 'limner.example' })).statusCode).toBe(403);
    expect((await send(note, { ...own, 'content-type': 'text/plain' })).statusCode).toBe(415);
    expect((await send({ ...note, reason: 'x'.repeat(20_000) })).statusCode).toBe(413);
    for (const wrong of [{ answer: 'maybe' }, { by: ' ' }, { sha256: 'x' }, { more: 1 }, { reason: 'x'.repeat(2001) }])
      expect((await send({ ...note, ...wrong })).statusCode, JSON.stringify(wrong)).toBe(400);
    for (const file of ['private.msa', '../second.msa'])
      expect((await send({ ...note, file })).statusCode, file).toBe(404);
    for (const method of ['PUT', 'DELETE', 'OPTIONS'] as const)
      expect((await app.inject({ url: '/api/notes', method, headers: own })).statusCode).toBe(405);
    expect(kept()).toBe(false);
  });

  it('are kept beside the spectra, none lost when many come at once', async () => {
    const ids = Array.from({ length: 12 }, (_, i) => `E${i}`);
    const replies = await Promise.all(ids.map((id) => send({ ...note, id })));
    expect(replies.map(({ statusCode }) => statusCode)).toEqual(ids.map(() => 200));
    const all = (await get('/api/notes')).json<{ id: string; at: string }[]>();
    expect(all.map(({ id }) => id).sort()).toEqual(ids.sort());
    expect(all[0].at).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/);
    expect(kept()).toBe(true);
  });
});

it('serves no source map', () => {
  const parts = readdirSync(fileURLToPath(new URL('../../apps/viewer/dist/page/', import.meta.url)));
  expect(parts).toContain('page.js');
  expect(parts.filter((name) => name.endsWith('.map'))).toEqual([]);
});

describe('nothing else can be reached', () => {
  it.each([
    '/api/spectra/private.msa/reading',
    '/api/spectra/..%2Fprivate.msa/reading',
    '/private.msa',
    '/..%2f..%2fpackage.json',
    '/%2e%2e/%2e%2e/package.json',
    '/..%5c..%5cpackage.json',
    '/.tsbuildinfo',
    '/page/main.ts',
  ])('by %s', async (url) => {
    const reply = await get(url);
    expect(reply.statusCode).toBeGreaterThanOrEqual(400);
    expect(reply.statusCode).toBeLessThan(500);
    expect(typeof reply.json<{ error: unknown }>().error).toBe('string');
  });

  it('by a raw path that climbs', async () => {
    const origin = await app.listen({ host: '127.0.0.1', port: 0 });
    const port = (app.server.address() as AddressInfo).port;
    const status = await new Promise((resolve, reject) => {
      request({ host: '127.0.0.1', port, path: '/../../../../../etc/passwd' }, (reply) => resolve(reply.statusCode))
        .on('error', reject)
        .end();
    });
    expect(status).toBeGreaterThanOrEqual(400);
    expect(origin).toBe(`http://127.0.0.1:${port}`);
  });

  it.each(['limner.example', '127.0.0.1.example:80', 'localhost.example', '10.0.0.7:8080'])(
    'under the foreign host name "%s"',
    async (host) => {
      for (const url of ['/', '/api/spectra', '/page.js']) expect((await get(url, { host })).statusCode).toBe(403);
    },
  );

  it.each(['127.0.0.1:1', 'localhost:8080', 'LOCALHOST', '[::1]:8080'])('but it answers to %s', async (host) => {
    expect((await get('/api/spectra', { host })).statusCode).toBe(200);
  });
});

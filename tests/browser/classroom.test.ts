// A classroom served to a room: what is answered, to whom, and the bench in a real Chromium under the server's own policy. Loopback addresses only.
import { createClassroom } from '@limner/viewer';
import { request } from 'node:http';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { classroom } from '../../apps/cli/src/classroom/files.ts';
import { roomValue, roomWarning } from '../../apps/cli/src/classroom/room.ts';
import { limner } from '../fixtures/cli.ts';
import { closePages, launchChromium } from './chromium.ts';
import { bundlePage, watchedPage } from './stage.ts';

const browser: Browser | null = await launchChromium();
const ROOM = '127.0.0.2';
let files: Map<string, string>;

beforeAll(async () => {
  bundlePage();
  files = await classroom('server');
});
afterAll(closePages);

const address = ({ stdout }: { readonly stdout: string }): string => /http:\/\/[\d.]+:\d+/.exec(stdout)?.[0] ?? '';

/** The status of a request whose path no client tidies. */
const statusOf = (at: string, path: string, method: string): Promise<number | undefined> =>
  new Promise((done, failed) => {
    const { hostname, port } = new URL(at);
    request({ hostname, port, path, method }, (reply) => done(reply.resume().statusCode))
      .on('error', failed)
      .end();
  });

describe('limner teach --serve', () => {
  it('serves the bench to this machine alone, from memory, without a warning, until it is ended', async () => {
    const seen: [string, number, string | null][] = [];
    const { code, stdout, stderr } = await limner(['teach', '--serve'], {
      env: { PORT: '0' },
      interrupted: async (io) => {
        for (const name of ['', 'bench-worker.js', 'START-HERE.html', 'wall-chart.pdf', 'wall-chart.svg']) {
          const reply = await fetch(`${address(io)}/${name}`);
          seen.push([name, reply.status, reply.headers.get('content-type')]);
        }
      },
    });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(/^The bench is at http:\/\/127\.0\.0\.1:\d+\/ .*\(press Ctrl-C to stop it\)\.\n$/);
    expect(seen).toEqual([
      ['', 200, 'text/html; charset=utf-8'],
      ['bench-worker.js', 200, 'text/javascript; charset=utf-8'],
      ['START-HERE.html', 200, 'text/html; charset=utf-8'],
      ['wall-chart.pdf', 200, 'application/pdf'],
      ['wall-chart.svg', 200, 'image/svg+xml'],
    ]);
    await expect(fetch(address({ stdout }))).rejects.toThrow();
  });

  it('listens at the address it is given and at no other', async () => {
    const replies: string[] = [];
    const { code, stdout, stderr } = await limner(['teach', '--serve', '--to-room', ROOM], {
      env: { PORT: '0' },
      interrupted: async (io) => {
        const elsewhere = address(io).replace(ROOM, '127.0.0.1');
        replies.push(String((await fetch(address(io))).status));
        replies.push(await fetch(elsewhere).then(String, () => 'refused'));
      },
    });
    expect({ code, stderr, replies }).toEqual({ code: 0, stderr: '', replies: ['200', 'refused'] });
    expect(address({ stdout })).toContain(ROOM);
  });

  it('takes one address of this machine', () => {
    expect(roomValue('--to-room', '127.0.0.1')).toBe('127.0.0.1');
    expect(roomValue('--to-room', '::1')).toBe('::1');
    for (const text of ['0.0.0.0', '::', '192.0.2.7', 'localhost', ''])
      expect(() => roomValue('--to-room', text)).toThrow(/give one of this machine's addresses; it (has|is on no)/);
  });

  it('says to whoever opens it to a network what is seen, by whom, and that nothing is encrypted', () => {
    const warning = roomWarning('192.0.2.7');
    for (const part of [/network of 192\.0\.2\.7/, /answers/, /no names/, /no TLS/, /Ask whoever runs this network/])
      expect(warning).toMatch(part);
  });
});

describe('the server of a classroom', () => {
  it('answers to its own address alone, takes nothing, and has nothing but its files', async () => {
    const app = createClassroom(files, '192.0.2.7');
    const status = async (headers: Record<string, string>, url = '/', method: 'GET' | 'POST' = 'GET') =>
      (await app.inject({ url, method, headers })).statusCode;
    const host = '192.0.2.7:4173';
    expect(await status({ host })).toBe(200);
    expect(await status({ host: '127.0.0.1:4173' })).toBe(200);
    expect(await status({ host: 'rebound.example:4173' })).toBe(403);
    expect(await status({ host, origin: 'http://other.example' })).toBe(403);
    expect(await status({ host, 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'cors' })).toBe(403);
    expect(await status({ host, origin: `http://${host}`, 'content-type': 'application/json' }, '/', 'POST')).toBe(405);
    for (const url of ['/package.json', '/../package.json', '/%2e%2e%2fpackage.json', '/__proto__', '/api/spectra'])
      expect(await status({ host }, url)).toBe(404);
    await app.close();
  });

  it('tells the browser to load nothing from elsewhere, and finds no file on the disk', async () => {
    const app = createClassroom(files, '127.0.0.1');
    const at = await app.listen({ host: '127.0.0.1', port: 0 });
    const policy = (await fetch(at)).headers.get('content-security-policy');
    expect(policy).toContain("default-src 'none'");
    expect(await statusOf(at, '/../../../../etc/hostname', 'GET')).toBe(404);
    expect(await statusOf(at, '/', 'HEAD')).toBe(200);
    await app.close();
  });

  it.skipIf(browser === null)(
    'shows the bench under that policy, and the answer once a student has committed',
    async () => {
      const app = createClassroom(files, '127.0.0.1');
      const at = await app.listen({ host: '127.0.0.1', port: 0 });
      const { page, faults } = await watchedPage(browser!, at);
      page.setDefaultTimeout(120_000);
      await page.goto(`${at}/START-HERE.html`);
      await page.getByRole('link', { name: 'Sodium under zinc' }).click();
      await page.locator('input[name=prediction]').first().check();
      await page.getByText('Commit to this').click();
      await page.locator('.lead').waitFor();
      await page.getByText('I have read the figures').click();
      await page.locator('#explanation').fill('No counts tell.');
      await page.getByText('Compare with the answer').click();
      expect(await page.locator('.answer').innerText()).toContain('No number of counts is enough');
      expect(faults).toEqual([]);
      await app.close();
    },
  );
});

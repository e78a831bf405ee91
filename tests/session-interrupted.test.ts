import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

/** The built command, with its workers. */
const LIMNER = fileURLToPath(new URL('../apps/cli/bin/limner.js', import.meta.url));
// The same day in every run: the only thing in the results that the input does not decide.
const ENV = { ...process.env, SOURCE_DATE_EPOCH: '1750000000' };
/** `npm run statistics` takes 20. */
const KILLS = process.env['LIMNER_WHOLE'] === undefined ? 2 : 20;
const SESSION: Record<string, string> = { 'in/broken.msa': '#FORMAT : EMSA/MAS\n#NPOINTS : many\n' };
for (const formula of ['HgS', 'TiO2', 'ZnO']) SESSION[`in/${formula}.msa`] = emsaText(formula, 1, 20_000);

/** What a run that nobody cuts off writes. */
let undivided: Promise<Record<string, string>> | undefined;
const reference = (): Promise<Record<string, string>> =>
  (undivided ??= (async () => {
    const cwd = folderWith(SESSION);
    expect(await finish(cwd, 'whole')).toBe(1);
    return standing(join(cwd, 'whole'));
  })());

/** Files that stand in a folder of results, by name. */
function standing(out: string): Record<string, string> {
  if (!existsSync(out)) return {};
  const names = readdirSync(out).filter((name) => name !== '.limner');
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(out, name), 'utf8')]));
}

/** Names of the finished results that are kept. */
function kept(out: string): string[] {
  const store = join(out, '.limner/results');
  if (!existsSync(store)) return [];
  return readdirSync(store, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.br'));
}

const start = (cwd: string, out: string) =>
  spawn(process.execPath, [LIMNER, 'tag', 'in', '--out', out, '--workers', '2'], { cwd, env: ENV, stdio: 'ignore' });

async function finish(cwd: string, out: string): Promise<number | null> {
  const [code] = (await once(start(cwd, out), 'exit')) as [number | null];
  return code;
}

/** Even numbers from 0 to 1, the same each time (linear congruence of Lehmer, 1951, with the multiplier of Park and Miller, 1988). */
function seeded(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

describe('a session that is cut off', () => {
  it(`by kill -9 at ${KILLS} moments loses no finished spectrum, shows no half file and ends with the same bytes`, async () => {
    const cwd = folderWith(SESSION);
    const whole = await reference();
    const random = seeded(20);
    let kills = 0;
    for (let round = 0; kills < KILLS; round++) {
      const out = `cut-${round}`;
      let before: string[] = [];
      for (let ended = false; !ended;) {
        const child = start(cwd, out);
        const exit = once(child, 'exit');
        // By work done and a little at random, so that it means the same on a slow machine.
        const enough = before.length + Math.floor(3 * random());
        while (child.exitCode === null && kept(join(cwd, out)).length < enough) await wait(5);
        ended = await Promise.race([exit.then(() => true), wait(400 * random(), false)]);
        if (!ended) {
          child.kill('SIGKILL');
          await exit;
          kills++;
        }
        const now = kept(join(cwd, out));
        expect(now).toEqual(expect.arrayContaining(before));
        before = now;
        expect(whole).toMatchObject(standing(join(cwd, out)));
      }
      expect(standing(join(cwd, out))).toEqual(whole);
      expect(readdirSync(join(cwd, out, '.limner'))).toEqual(['results']);
    }
  });

  it('by Ctrl-C ends with 130; the same command resumes it', async () => {
    const cwd = folderWith(SESSION);
    const child = start(cwd, 'out');
    const exit = once(child, 'exit');
    while (kept(join(cwd, 'out')).length < 2 && child.exitCode === null) await wait(5);
    child.kill('SIGINT');
    expect(await exit).toEqual([130, null]);
    expect(standing(join(cwd, 'out'))).toEqual({});
    expect(await finish(cwd, 'out')).toBe(1);
    expect(standing(join(cwd, 'out'))).toEqual(await reference());
  });

  it('with a damaged result reads that spectrum again', async () => {
    const cwd = folderWith(SESSION);
    await finish(cwd, 'out');
    for (const name of kept(join(cwd, 'out'))) {
      const path = join(cwd, 'out/.limner/results', name);
      const bytes = readFileSync(path);
      writeFileSync(path, bytes.subarray(0, bytes.length >> 1));
    }
    rmSync(join(cwd, 'out/manifest.json'));
    await finish(cwd, 'out');
    expect(standing(join(cwd, 'out'))).toEqual(await reference());
  });

  const canMount = spawnSync('unshare', ['-rm', 'mount', '-t', 'tmpfs', 'tmpfs', '/mnt']).status === 0;
  if (!canMount)
    process.stderr.write('Left out: disks that are full or read-only (this machine lets nobody mount one).\n');
  it.skipIf(!canMount)('by a full disk says so once, and goes on when there is room', async () => {
    const cwd = folderWith(SESSION);
    mkdirSync(join(cwd, 'small'));
    const tag = `'${process.execPath}' '${LIMNER}' tag in --out small/out --workers 2`;
    const script = [
      'mount -t tmpfs -o size=200k tmpfs small',
      `${tag} 2> full; echo $? > code; ls -A small/out > shown; ls -A small/out/.limner > hidden`,
      'mount -o remount,size=50m small',
      `${tag} 2> /dev/null; echo $? >> code; cp -r small/out out`,
    ].join('\n');
    spawnSync('unshare', ['-rm', 'sh', '-c', script], { cwd, env: ENV });
    const told = (name: string): string => readFileSync(join(cwd, name), 'utf8');
    expect(told('full')).toMatch(
      /^limner: [^\n]*the disk is full; free some space and run the same command again[^\n]*\n$/,
    );
    expect(told('code')).toBe('3\n1\n');
    expect(told('shown')).toBe('.limner\n');
    expect(told('hidden')).toBe('results\n');
    expect(standing(join(cwd, 'out'))).toEqual(await reference());
  });

  it.skipIf(!canMount)('by a read-only disk says that it is one', () => {
    const cwd = folderWith({ 'in/a.msa': SESSION['in/ZnO.msa'] });
    mkdirSync(join(cwd, 'fixed'));
    const commands = ['tag in --out fixed', 'tag in --out fixed/out', 'sheet in --out fixed/samples.csv'];
    const script = [
      'mount -t tmpfs -o ro tmpfs fixed',
      ...commands.map((command) => `'${process.execPath}' '${LIMNER}' ${command} 2>> said; echo $? >> codes`),
    ].join('\n');
    spawnSync('unshare', ['-rm', 'sh', '-c', script], { cwd, env: ENV });
    expect(readFileSync(join(cwd, 'codes'), 'utf8')).toBe('3\n3\n3\n');
    expect(readFileSync(join(cwd, 'said'), 'utf8')).toMatch(/^(limner: [^\n]+ the disk is read-only[^\n]*\n){3}$/);
  });
});

it('parts read by processes of their own are joined into what one run writes, to the byte', async () => {
  const cwd = folderWith(SESSION);
  const run = (...args: string[]) => once(spawn(process.execPath, [LIMNER, ...args], { cwd, env: ENV }), 'exit');
  await Promise.all([1, 2].map((k) => run('tag', 'in', '--part', `${k}/2`, '--out', `p${k}`)));
  expect(await run('merge', 'p2', 'p1', '--out', 'merged')).toEqual([1, null]);
  expect(standing(join(cwd, 'merged'))).toEqual(await reference());
});

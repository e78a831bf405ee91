import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { emsaText } from './fixtures/emsa.ts';
import { folderWith } from './fixtures/folder.ts';

/** The built command, as `npm run build` leaves it. */
const LIMNER = fileURLToPath(new URL('../apps/cli/bin/limner.js', import.meta.url));
const ROOT = fileURLToPath(new URL('..', import.meta.url));

function shell(command: string, cwd = ROOT) {
  const { status, stdout, stderr } = spawnSync('sh', ['-c', command], { cwd, encoding: 'utf8' });
  return { status, stdout, stderr };
}

describe('the built command', () => {
  it('is there for npx after a build', () => {
    const { version } = JSON.parse(readFileSync(new URL('../apps/cli/package.json', import.meta.url), 'utf8')) as {
      version: string;
    };
    expect(shell('npx --no-install limner --version')).toEqual({ status: 0, stdout: `${version}\n`, stderr: '' });
  });

  it('ends quietly when its reader has seen enough', () => {
    const lines = shell(`node '${LIMNER}' lines --near 2keV --within 2keV | head -n 2`);
    expect(lines.stderr).toBe('');
    expect(lines.stdout.trimEnd().split('\n')).toHaveLength(2);
    const cwd = folderWith({ 'a.msa': emsaText('TiO2'), 'b.msa': emsaText('HgS') });
    const records = shell(`node '${LIMNER}' identify --json a.msa b.msa | head -c 20`, cwd);
    expect(records).toMatchObject({ stdout: '{"schema":"limner-re', stderr: '' });
  });

  it('passes exit codes on, and keeps errors off standard output', () => {
    expect(shell(`node '${LIMNER}' identify gone.msa`)).toMatchObject({ status: 3, stdout: '' });
    expect(shell(`node '${LIMNER}' identify --wrong`)).toMatchObject({ status: 2, stdout: '' });
  });

  it.skipIf(!existsSync('/dev/full'))('says that its results cannot be written where standard output refuses', () => {
    expect(shell(`node '${LIMNER}' lines Pb > /dev/full`)).toEqual({
      status: 3,
      stdout: '',
      stderr:
        'limner: standard output cannot be written: the disk is full; free some space and run the same command again\n',
    });
  });

  it('shows a spectrum until it is interrupted', async () => {
    const cwd = folderWith({ 'a.msa': emsaText('TiO2') });
    const child = spawn(process.execPath, [LIMNER, 'show', 'a.msa'], { cwd, env: { ...process.env, PORT: '' } });
    onTestFinished(() => void child.kill('SIGKILL'));
    let stdout = '';
    const address = await new Promise<string>((found) => {
      child.stdout.setEncoding('utf8').on('data', (text: string) => {
        stdout += text;
        const url = /http:\/\/127\.0\.0\.1:\d+/.exec(stdout)?.[0];
        if (url !== undefined) found(url);
      });
    });
    expect(stdout).toMatch(/^a\.msa: Invented TiO2\n/);
    const spectra = (await (await fetch(`${address}/api/spectra`)).json()) as { name: string }[];
    expect(spectra.map(({ name }) => name)).toEqual(['a.msa']);
    child.kill('SIGINT');
    const [code] = (await once(child, 'exit')) as [number | null];
    expect(code).toBe(0);
  });
});

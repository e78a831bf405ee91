// What is installed with Limner, as the lock file has it: its licences, and that nothing runs while it is installed.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

interface Locked {
  readonly license?: string;
  readonly dev?: boolean;
  readonly hasInstallScript?: boolean;
  readonly link?: boolean;
}
const root = fileURLToPath(new URL('..', import.meta.url));
const { packages } = JSON.parse(readFileSync(`${root}package-lock.json`, 'utf8')) as {
  packages: Record<string, Locked>;
};
const installed = Object.entries(packages).filter(([path, { link }]) => path.includes('node_modules/') && !link);

/** Licences that ask for no more than their own text beside the program. */
const FREE = [
  '0BSD',
  'Apache-2.0',
  'Python-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'BlueOak-1.0.0',
  'CC0-1.0',
  'ISC',
  'MIT',
];
/** Those of tools as well: they ask something of changes to their own files, and none is shipped or changed. */
const OF_TOOLS = [...FREE, 'MPL-2.0'];

it('every licence is one that Limner may be passed on with', () => {
  expect(installed.length).toBeGreaterThan(100);
  const others = installed.filter(([, { license = 'none', dev }]) => !(dev ? OF_TOOLS : FREE).includes(license));
  expect(others.map(([path, { license }]) => `${path}: ${license}`)).toEqual([]);
});

it('nothing runs a script of its own when it is installed', () => {
  expect(installed.filter(([, { hasInstallScript }]) => hasInstallScript).map(([path]) => path)).toEqual([]);
});

it('what is installed is what the lock file asks for', () => {
  const { status, stderr } = spawnSync('npm', ['ls', '--all'], {
    cwd: root,
    encoding: 'utf8',
    shell: process.platform === 'win32',
  });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
});

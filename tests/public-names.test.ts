import { readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
const read = (path: string): string => readFileSync(join(root, path), 'utf8');

const LIST = /(?:import|export)\s+(type\s+)?\{([^}]*)\}\s+from\s+'([^']+)'/g;
const namesIn = (list: string): string[] => list.split(',').flatMap((name) => name.replace(/\btype /, '').trim() || []);

/** Names that core hands out. */
function handedOut(): string[] {
  const lists = [...read('packages/core/src/index.ts').matchAll(LIST)];
  return lists.flatMap(([, , list]) => namesIn(list)).map((name) => name.split(' as ').at(-1)!);
}

/** Names that session, apps and tests take from core. */
function taken(): Set<string> {
  const files = ['packages/session/src', 'apps', 'tests'].flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map((path) => join(folder, path)),
  );
  const sources = files.filter((path) => /\.(ts|mjs)$/.test(path) && !/node_modules|[/\\]dist[/\\]/.test(path));
  const lists = sources.flatMap((path) => [...read(path.replaceAll(sep, '/')).matchAll(LIST)]);
  const fromCore = lists.filter(([, , , from]) => from === '@limner/core' || from.endsWith('core/dist/index.js'));
  return new Set(fromCore.flatMap(([, , list]) => namesIn(list)).map((name) => name.split(' as ')[0]));
}

describe('the index of core', () => {
  it('hands out only names that are used outside, or told in its README', () => {
    const used = taken();
    const told = read('packages/core/README.md');
    const names = handedOut();
    expect(names.length).toBeGreaterThan(30);
    expect(names.filter((name) => !used.has(name) && !told.includes(`\`${name}\``))).toEqual([]);
  });
});

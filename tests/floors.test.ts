import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Floors of core: an import goes to a lower floor or to the same folder, never up or sideways. */
const FLOORS: Record<string, number> = {
  arithmetic: -1,
  atomic: 0,
  spectrum: 1,
  emission: 1,
  detector: 1,
  peaks: 2,
  model: 2,
  fit: 3,
  identify: 4,
  pigments: 5,
  kinds: 5,
  plan: 5,
  simulate: 5,
  evidence: 6,
  record: 7,
  telling: 8,
  reading: 9,
  teach: 10,
};

/** Rooms of a floor, and of the session, from the lowest up: an import goes to the same room or to a lower one. Files beside the rooms are on top. */
const ROOMS: Record<string, readonly string[]> = {
  'packages/core/src/emission': ['electrons', 'thick', 'body'],
  'packages/core/src/telling': ['terms', 'words', 'sections', 'session'],
  'packages/session/src': ['input', 'instrument', 'summary', 'page', 'results', 'reading'],
};

function sources(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => !path.includes('node_modules') && !path.includes(`${sep}dist${sep}`));
}

function imports(path: string): string[] {
  const text = readFileSync(path, 'utf8');
  return [
    ...text.matchAll(/(?:^|\n)\s*(?:import|export)\b[^'";]*?from\s*['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]\s*\)/g),
  ].map((match) => match[1] ?? match[2]);
}

describe('imports go down only', () => {
  const core = join(root, 'packages/core/src');

  it('inside core, from floor to lower floor', () => {
    const wrong: string[] = [];
    for (const path of sources(core)) {
      const from = relative(core, path).split(sep);
      if (from.length === 1) continue; // index.ts, the public API, sees all
      if (path.endsWith('.test.ts')) continue; // a test may take its input from the simulator above
      for (const specifier of imports(path).filter((s) => s.startsWith('.'))) {
        const to = relative(core, resolve(dirname(path), specifier)).split(sep);
        if (to.length === 1 || to[0] === '..') {
          wrong.push(`${from.join('/')} -> ${specifier}`);
        } else if (to[0] !== from[0] && !(FLOORS[to[0]] < FLOORS[from[0]])) {
          wrong.push(`${from.join('/')} -> ${specifier}`);
        }
      }
    }
    expect(wrong).toEqual([]);
  });

  it('knows every folder of core', () => {
    const folders = readdirSync(core, { withFileTypes: true }).filter((entry) => entry.isDirectory());
    expect(folders.map((entry) => entry.name).filter((name) => !(name in FLOORS))).toEqual([]);
  });

  it.each(Object.entries(ROOMS))('inside %s, from room to lower room', (folder, rooms) => {
    const wrong: string[] = [];
    const roomOf = (path: string): number => {
      const below = relative(join(root, folder), path).split(sep);
      return below.length === 1 ? rooms.length : rooms.indexOf(below[0]);
    };
    for (const path of sources(join(root, folder)).filter((p) => !p.endsWith('.test.ts'))) {
      for (const specifier of imports(path).filter((s) => s.startsWith('.'))) {
        const to = resolve(dirname(path), specifier);
        if (roomOf(to) > roomOf(path)) wrong.push(`${relative(root, path)} -> ${specifier}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('knows every room', () => {
    for (const [folder, rooms] of Object.entries(ROOMS)) {
      const folders = readdirSync(join(root, folder), { withFileTypes: true }).filter((entry) => entry.isDirectory());
      expect(folders.map(({ name }) => name).sort()).toEqual([...rooms].sort());
    }
  });

  it('from apps to packages, and from session to core, never back', () => {
    const forbidden: Record<string, RegExp> = {
      'packages/core': /^node:|@limner\/|apps\//,
      'packages/session': /@limner\/(cli|viewer)|apps\//,
      'apps/viewer': /@limner\/cli/,
    };
    const wrong: string[] = [];
    for (const [folder, pattern] of Object.entries(forbidden)) {
      for (const path of sources(join(root, folder)).filter((p) => !p.endsWith('.test.ts'))) {
        for (const specifier of imports(path))
          if (pattern.test(specifier)) wrong.push(`${relative(root, path)} -> ${specifier}`);
      }
    }
    expect(wrong).toEqual([]);
  });
});

describe('imports make no circle', () => {
  it('in packages and apps', () => {
    const files = [...sources(join(root, 'packages')), ...sources(join(root, 'apps'))];
    const graph = new Map(
      files.map((path) => [
        path,
        imports(path)
          .filter((s) => s.startsWith('.') && s.endsWith('.ts'))
          .map((s) => resolve(dirname(path), s)),
      ]),
    );
    const circles: string[] = [];
    const state = new Map<string, 'open' | 'done'>();
    const visit = (path: string, trail: string[]): void => {
      if (state.get(path) === 'done') return;
      if (state.get(path) === 'open') {
        circles.push([...trail.slice(trail.indexOf(path)), path].map((p) => relative(root, p)).join(' -> '));
        return;
      }
      state.set(path, 'open');
      for (const next of graph.get(path) ?? []) visit(next, [...trail, path]);
      state.set(path, 'done');
    };
    for (const path of files) visit(path, []);
    expect(circles).toEqual([]);
  });
});

import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));

/**
 * Folder of real measurements for development (`real-hard`: those on which verdicts once fell): LIMNER_REAL, else beside the checkout, else /work/shared/real; null when
 * there is none. They are not part of the project, so tests that use them skip with a plain word where it is absent.
 */
export function realFolder(name: 'real' | 'real-hard' = 'real'): string | null {
  const places = [
    name === 'real' ? process.env['LIMNER_REAL'] : undefined,
    resolve(root, '..', 'shared', name),
    join('/work/shared', name),
  ];
  const found = places.find((place) => place !== undefined && place !== '' && existsSync(join(place, 'truth.json')));
  return found ?? null;
}

/** For the title of a test that skips. */
export const REAL_ABSENT = 'skipped: no folder of real measurements here (set LIMNER_REAL to have them read)';

import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { boteSalvat } from './ionisation-parameters.ts';
import { SUBSHELLS } from './shells.ts';
import { DATA_VERSION } from './version.ts';

describe('packed tables', () => {
  it('stay small enough for a page: under 600 kB compressed', () => {
    expect(gzipSync(readFileSync(new URL('tables.json', import.meta.url))).length).toBeLessThan(600_000);
  });

  it('carry a version made from their content', () => {
    expect(DATA_VERSION).toMatch(/^atomic-[0-9a-f]{12}$/);
  });

  // Bote et al. 2009, Table of parameters: C K as printed in the public listing of the authors' values.
  it('hold the ionisation parameters in the order their description gives', () => {
    expect(Array.from(boteSalvat(6, 0)!.slice(0, 8))).toEqual([
      291.001, 0.0999, 0.000488, -0.139, 0.149, -0.202, 1.21, 2.61e-6,
    ]);
    expect(boteSalvat(6, SUBSHELLS.indexOf('M5'))).toBeUndefined();
    expect(boteSalvat(82, 8)).toHaveLength(12);
  });
});

import { describe, expect, it } from 'vitest';
import { zOf } from '../atomic/elements.ts';
import { MOUNT_NAMES, mountOrigins, originOf, UnknownMountError } from './mount.ts';

const origin = (symbol: string, mount: readonly string[]): string => originOf(zOf(symbol)!, mountOrigins(mount));

describe('what a mounting adds', () => {
  it('is a known element each time', () => {
    for (const name of MOUNT_NAMES) {
      const origins = mountOrigins([name]);
      expect(origins.size).toBeGreaterThan(0);
      for (const z of origins.keys()) expect(z).toBeGreaterThan(0);
    }
  });

  it('is the setting alone for a coat, either for a stub, whichever is named first', () => {
    expect(origin('Au', ['gold-coat'])).toBe('setting');
    expect(origin('Al', ['aluminium-stub'])).toBe('either');
    expect(origin('Cu', ['gold-coat'])).toBe('specimen');
    for (const mount of [
      ['gold-coat', 'resin'],
      ['resin', 'gold-coat'],
    ]) {
      expect(origin('Au', mount)).toBe('setting');
      expect(origin('Cl', mount)).toBe('either');
    }
  });

  it('leaves carbon and oxygen in doubt even where nothing is declared', () => {
    expect(['C', 'O', 'Pb'].map((symbol) => origin(symbol, []))).toEqual(['either', 'either', 'specimen']);
  });

  it.each(['glue', '', 'constructor', '__proto__'])('refuses "%s" with the names it knows', (name) => {
    expect(() => mountOrigins([name])).toThrow(UnknownMountError);
    expect(() => mountOrigins([name])).toThrow(/carbon-stub.*resin/);
  });
});

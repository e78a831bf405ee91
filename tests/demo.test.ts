import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readSpectrum } from '../packages/core/src/spectrum/read.ts';

const folder = new URL('../data/demo/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.msa'));
const table = (name: string): string[][] =>
  readFileSync(new URL(name, folder), 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => line.split(','));

describe('the demonstration study', () => {
  it.each(files)('%s reads without a warning and says everywhere that it is invented', (name) => {
    const spectrum = readSpectrum(readFileSync(new URL(name, folder)), { name });
    expect(spectrum.warnings).toEqual([]);
    expect(spectrum.title).toMatch(/^INVENTED /);
    const said = (key: string): string | undefined => spectrum.header.find((entry) => entry.key === key)?.value;
    expect(said('##LIMNER-ORIGIN')).toBe('invented, simulated');
    expect(said('COMMENT')).toMatch(/INVENTED.*simulated, not measured/);
    expect(spectrum.counts.length).toBe(2048);
    const total = spectrum.counts.reduce((a, b) => a + b, 0);
    expect(total).toBeGreaterThan(9e4);
    expect(total).toBeLessThan(4.1e5);
  });

  it('has every spectrum on its sheet once, with a layer from the ground up or the mount', () => {
    const [head, ...rows] = table('samples.csv');
    expect(head).toEqual(['file', 'sample', 'layer', 'particle', 'known', 'note']);
    expect(rows.map(([file]) => file).sort()).toEqual([...files].sort());
    for (const [, sample, layer, , , note] of rows) {
      expect(sample).toMatch(/^P[12]$/);
      expect(layer).toMatch(/^[123]?$/);
      expect(note).toMatch(/^INVENTED: /);
    }
  });

  it('says apart from the sheet what each grain was made of', () => {
    const [, ...rows] = table('made-of.csv');
    expect(rows.map(([file]) => file).sort()).toEqual([...files].sort());
    for (const [, madeOf] of rows) expect(madeOf).toMatch(/^INVENTED: /);
  });
});

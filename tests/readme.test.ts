import { MATERIALS } from '@limner/core/data';
import { identify, readSpectrum, summary } from '@limner/core';
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const root = new URL('../', import.meta.url);
const pages = ['README.md', 'DEVELOPERS.md', 'data/README.md'];
const text = (page: string): string => readFileSync(new URL(page, root), 'utf8');

describe('what the pages say', () => {
  it.each(pages)('%s links to files that are there', (page) => {
    const links = [...text(page).matchAll(/\]\((?!https?:|#)([^)#]+)\)/g)].map(([, link]) => link);
    expect(links.filter((link) => !existsSync(new URL(link, new URL(page, root))))).toEqual([]);
  });

  it('README promises no more materials than there are', () => {
    expect(text('README.md')).toContain('Matches over 250 materials');
    expect(MATERIALS.length).toBeGreaterThan(250);
  });

  it('README shows the library as it works', () => {
    const spectrum = readSpectrum(readFileSync(new URL('data/demo/P2-L3-g01.msa', root)));
    const record = identify(spectrum, { mount: ['resin'], claim: ['Pb'] });
    expect(summary(record)).toMatch(/^Mercury and sulfur: required by the counts\./);
    expect(record.claims[0].answer).toBe('contradicted');
    expect(text('README.md')).toContain("identify(spectrum, { mount: ['resin'], claim: ['Pb'] })");
  });

  it('names no material on what resin alone brings', () => {
    const blank = readSpectrum(readFileSync(new URL('data/demo/P2-M-blank.msa', root)));
    expect(summary(identify(blank))).not.toMatch(/Best fit/);
  });

  it('DEVELOPERS maps every folder of core', () => {
    for (const folder of ['atomic', 'spectrum', 'emission', 'detector', 'peaks', 'model', 'fit', 'identify'])
      expect(text('DEVELOPERS.md')).toContain(`| \`${folder}\``);
  });
});

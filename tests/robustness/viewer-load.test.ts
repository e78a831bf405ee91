// The viewer answers while it reads: what is asked later and needs no reading comes first. No clock, only the order of answers.
import { expect, it } from 'vitest';
import { emsaText } from '../fixtures/emsa.ts';
import { folderWith } from '../fixtures/folder.ts';
import { served } from '../fixtures/served.ts';

it('readings under way keep nobody waiting', async () => {
  const names = ['TiO2', 'HgS', 'ZnO', 'CaCO3'].map(
    (formula) => [`s/${formula}.msa`, emsaText(formula, 1, 100_000, 1024)] as const,
  );
  const viewer = await served(folderWith(Object.fromEntries(names)), 's');
  try {
    const answers: string[] = [];
    const ask = async (what: string, path: string): Promise<number> => {
      const reply = await fetch(viewer.address + path);
      await reply.arrayBuffer();
      answers.push(what);
      return reply.status;
    };
    // With a beam of its own each is a reading that nobody has asked for before.
    const readings = [12, 14, 16].map((beam) => ask('reading', `/api/spectra/HgS.msa/reading?beam=${beam}`));
    const others = Array.from({ length: 20 }, (_, i) => ask('page', i % 2 === 0 ? '/' : '/api/session'));
    expect(await Promise.all([...readings, ...others])).toEqual(Array(23).fill(200));
    expect(answers.slice(0, 20)).toEqual(Array(20).fill('page'));

    const again = ask('kept', '/api/spectra/HgS.msa/reading?beam=12');
    const anew = ask('reading', '/api/spectra/ZnO.msa/reading?beam=13');
    await Promise.all([again, anew]);
    expect(answers.at(-2)).toBe('kept');
  } finally {
    expect(await viewer.end()).toBe(0);
  }
});

import type { SampleInShort } from '@limner/core';
import type { SampleSummary } from './layers.ts';

/** What the first page of a report says of each sample. */
export const inShort = (samples: readonly SampleSummary[]): SampleInShort[] =>
  samples.map(({ sample, layers }) => {
    const grains = layers.flatMap((layer) => layer.grains);
    const built = layers.filter(({ layer }) => layer !== null);
    const counts = new Map<string, number>();
    for (const { found } of grains) if (found.best) counts.set(found.best.name, (counts.get(found.best.name) ?? 0) + 1);
    return {
      sample,
      layers: built.length,
      grains: grains.length,
      materials: [...counts].sort(([, a], [, b]) => b - a).map(([name, n]) => ({ name, grains: n })),
      notBefore: built.at(-1)?.notBefore?.dating.year ?? null,
      open: grains.filter(({ found }) => found.open.length > 0).length,
      odd: layers.reduce((sum, { odd }) => sum + odd.length, 0),
      questions: grains.reduce((sum, { found }) => sum + found.questions.length, 0),
    };
  });

// Optics of the pigment knowledge: sound, packed as they stand, and as published.
import { describe, expect, it } from 'vitest';
import { KNOWLEDGE_SOURCES, MATERIALS } from '../packages/core/src/pigments/knowledge.ts';
import { faultText } from '../packages/core/src/pigments/material-table.ts';
import { againstMountant, opticsIn, opticsOf } from '../packages/core/src/pigments/optics-table.ts';
import { rowsOf } from './fixtures/data-rows.ts';

const KEYS = new Set(KNOWLEDGE_SOURCES.map(({ key }) => key));

describe('optics', () => {
  it('are sound by their check, and are packed as they stand', () => {
    const [heading, ...rows] = rowsOf('optics');
    const materials = new Set(MATERIALS.map(({ id }) => id));
    const { optics, faults } = opticsIn(heading.cells, rows, { materials, sources: KEYS });
    expect(faults.map((fault) => faultText('optics.csv', fault))).toEqual([]);
    expect(optics.size).toBeGreaterThan(300);
    for (const { id } of MATERIALS) expect(opticsOf(id)).toEqual(optics.get(id) ?? {});
  });

  it('give every material of a paint a colour', () => {
    const without = MATERIALS.filter((m) => m.class !== 'contaminant' && opticsOf(m.id).colour === undefined);
    expect(without.map(({ id }) => id)).toEqual([]);
  });

  it('agree among themselves: only what is isotropic has no birefringence', () => {
    const odd = MATERIALS.filter(({ id }) => {
      const { isotropy, birefringence } = opticsOf(id);
      if (isotropy === undefined || birefringence === undefined) return false;
      return isotropy.value.every((word) => word === 'isotropic') !== (birefringence.value === 'none');
    });
    expect(odd.map(({ id }) => id)).toEqual([]);
  });

  it('trust no cell highly that nobody read', () => {
    const unread = new Set([
      'MEM',
      'CP',
      ...KNOWLEDGE_SOURCES.filter((s) => s.consulted === 'recalled').map((s) => s.key),
    ]);
    const high = MATERIALS.flatMap(({ id }) =>
      Object.entries(opticsOf(id)).map(([property, cell]) => ({ id, property, cell })),
    );
    const wrong = high.filter(({ cell }) => cell.trust === 'high' && cell.source.some((key) => unread.has(key)));
    expect(wrong.map(({ id, property }) => `${id} ${property}`)).toEqual([]);
  });

  // Indices: Handbook of Mineralogy (gypsum, barite, rutile, realgar). Bands: Prieto-Taboada et al., Anal. Chem. 86 (2014), for the
  // calcium sulfates; quartz 464, azurite 403 and malachite 433 from memory.
  it.each([
    ['gypsum', 1.52, 1.53, 1008],
    ['anhydrite', 1.567, 1.618, 1017],
    ['bassanite', 1.55, 1.584, 1015],
    ['barium-sulfate-natural', 1.636, 1.648, 988],
    ['titanium-white-rutile', 2.605, 2.901, 447],
    ['realgar', 2.538, 2.704, 354],
    ['quartz', 1.544, 1.553, 464],
    ['azurite', 1.73, 1.838, 403],
    ['malachite', 1.655, 1.909, 433],
  ])('%s has the published indices and its strongest band', (id, low, high, band) => {
    const { refractive_index: index, raman_cm1: raman } = opticsOf(id);
    expect(index?.value).toEqual({ low, high });
    expect(raman?.value.filter(({ strongest }) => strongest).map(({ cm1 }) => cm1)).toContain(band);
  });

  // Common practice with a mountant of 1.66: smalt and gypsum lie below, vermilion above, chalk both ways.
  it.each([
    ['smalt', 'lower'],
    ['gypsum', 'lower'],
    ['vermilion', 'higher'],
    ['azurite', 'higher'],
    ['egyptian-blue', 'lower'],
    ['dolomite', 'both'],
  ])('%s against the mountant: %s', (id, side) => {
    expect(againstMountant(opticsOf(id).refractive_index!.value)).toBe(side);
  });
});

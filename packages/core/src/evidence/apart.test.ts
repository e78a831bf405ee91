import { describe, expect, it } from 'vitest';
import { areApart } from './apart.ts';
import { areOneCompound, proposalsFor } from './phase-plan.ts';
import { type Technique, TECHNIQUES } from './techniques.ts';

type Named = Technique['id'];

const proposed = (a: string, b: string): Named[] =>
  proposalsFor([a, b].map((id) => ({ id, name: id, share: 0.5 }))).map(({ technique }) => technique);

// What tells two materials of the same elements apart, and what cannot, since they are the same compound for it.
const PAIRS: readonly (readonly [
  a: string,
  b: string,
  can: readonly Named[],
  cannot: readonly Named[],
  why: string,
])[] = [
  [
    'chalk',
    'calcite',
    ['image'],
    ['raman', 'infrared', 'diffraction', 'microchemistry', 'microscopy'],
    'CaCO3, calcite both: only coccoliths tell (common practice, no source)',
  ],
  [
    'chalk',
    'lime-white',
    ['image'],
    ['raman', 'infrared', 'diffraction', 'microchemistry'],
    'calcite both (common practice, no source)',
  ],
  ['calcite', 'shell-white', ['diffraction'], ['microchemistry'], 'calcite and aragonite (common practice, no source)'],
  [
    'calcite',
    'calcium-oxalate',
    ['raman', 'infrared', 'diffraction'],
    [],
    'carbonate and oxalate (common practice, no source)',
  ],
  [
    'gypsum',
    'anhydrite',
    ['raman', 'infrared', 'diffraction', 'microscopy'],
    [],
    'crystal water; 1008 and 1017 cm-1 in optics.csv (AC14)',
  ],
  ['gypsum', 'bassanite', ['infrared', 'diffraction'], [], 'hydrates of CaSO4 (AC14)'],
  [
    'gypsum',
    'gypsum-crust',
    [],
    ['raman', 'infrared', 'diffraction', 'microscopy', 'microchemistry'],
    'gypsum both: only the place tells (common practice, no source)',
  ],
  ['azurite', 'malachite', ['microscopy', 'raman', 'infrared', 'diffraction'], ['image'], '403 and 433 cm-1 (HS19)'],
  [
    'azurite',
    'blue-verditer',
    ['image'],
    ['raman', 'infrared', 'diffraction', 'microscopy', 'microchemistry'],
    'one compound; round radiating grains when made (Gettens & Stout 1942)',
  ],
  [
    'malachite',
    'green-verditer',
    ['image'],
    ['raman', 'diffraction', 'microchemistry'],
    'one compound (Gettens & Stout 1942)',
  ],
  [
    'titanium-white-rutile',
    'titanium-white-anatase',
    ['raman', 'diffraction'],
    ['microscopy', 'image', 'microchemistry'],
    'polymorphs; 144 cm-1 of anatase (HS19B); both indices above any liquid',
  ],
  [
    'lead-white',
    'red-lead',
    ['microscopy', 'raman', 'diffraction', 'microchemistry'],
    [],
    'white and orange (common practice, no source)',
  ],
  [
    'lead-white',
    'cerussite',
    ['infrared', 'diffraction'],
    ['microscopy', 'image', 'microchemistry'],
    'hydroxyl of the basic carbonate near 3535 cm-1 (from memory)',
  ],
  [
    'lead-white',
    'lead-sulfate-white',
    ['raman', 'diffraction'],
    ['image'],
    'carbonate and sulfate (common practice, no source)',
  ],
  [
    'vermilion',
    'cinnabar',
    [],
    ['raman', 'infrared', 'diffraction', 'microscopy', 'microchemistry'],
    'one compound, HgS (Gettens & Stout 1942)',
  ],
  ['vermilion', 'metacinnabar', ['microscopy', 'diffraction'], [], 'red and black form (common practice, no source)'],
  [
    'barium-sulfate-natural',
    'blanc-fixe',
    ['image'],
    ['raman', 'infrared', 'diffraction', 'microchemistry'],
    'one compound (common practice, no source)',
  ],
  [
    'ultramarine-natural',
    'ultramarine-synthetic',
    ['image', 'infrared'],
    ['raman', 'diffraction', 'microchemistry'],
    'one framework; CO2 of the stone at 2340 cm-1 (from memory)',
  ],
  ['quartz', 'diatomite', ['microscopy', 'diffraction'], [], 'quartz and opal (common practice, no source)'],
  [
    'quartz',
    'amorphous-silica',
    ['microscopy', 'raman', 'diffraction'],
    [],
    'crystal and glass (common practice, no source)',
  ],
  [
    'emerald-green',
    'copper-arsenite-green',
    ['infrared', 'diffraction'],
    ['microchemistry'],
    'acetate of one alone, near 1555 cm-1 (from memory); other crystals (common practice, no source)',
  ],
  ['viridian', 'chromium-oxide-green', ['raman'], ['image'], 'hydrated and not (common practice, no source)'],
  [
    'raw-umber',
    'burnt-umber',
    ['raman', 'diffraction'],
    ['image', 'microchemistry'],
    'goethite and haematite (common practice, no source)',
  ],
  [
    'yellow-ochre',
    'raw-sienna',
    [],
    ['raman', 'infrared', 'diffraction', 'image'],
    'goethite with clay both (common practice, no source)',
  ],
  ['haematite', 'mars-red', ['image'], ['raman', 'infrared', 'diffraction'], 'Fe2O3 both (common practice, no source)'],
  [
    'bone-black',
    'ivory-black',
    [],
    ['raman', 'infrared', 'diffraction', 'microchemistry'],
    'burnt apatite both (common practice, no source)',
  ],
  [
    'lead-tin-yellow-i',
    'lead-tin-yellow-ii',
    ['raman', 'diffraction'],
    ['image'],
    'two structures (common practice, no source)',
  ],
  [
    'orpiment',
    'realgar',
    ['microscopy', 'raman', 'diffraction'],
    ['image'],
    'As2S3 and As4S4 (common practice, no source)',
  ],
  [
    'cadmium-yellow',
    'cadmium-orange-sulfide',
    [],
    ['raman', 'diffraction', 'image'],
    'CdS both, by size of the grains (common practice, no source)',
  ],
  [
    'kaolin',
    'smectite',
    ['infrared', 'diffraction'],
    ['image'],
    'two clays; sharp hydroxyl of kaolinite (common practice, no source)',
  ],
  ['smalt', 'potash-glass', ['microscopy'], ['diffraction'], 'blue and clear glass (common practice, no source)'],
  ['chrome-yellow', 'viridian', ['microscopy', 'raman'], [], 'yellow and green (common practice, no source)'],
];

describe('a technique is named for two materials', () => {
  it.each(PAIRS)('%s and %s: %j, not %j; %s', (a, b, can, cannot) => {
    const names = proposed(a, b);
    expect(names).toEqual(expect.arrayContaining([...can]));
    expect(names.filter((name) => cannot.includes(name))).toEqual([]);
  });

  it.each(PAIRS)('%s and %s the same whichever comes first', (a, b) => {
    for (const { shows } of TECHNIQUES)
      for (const property of shows) expect(areApart(a, b, property), property).toBe(areApart(b, a, property));
  });
});

describe('one compound', () => {
  it.each<[string[], boolean]>([
    [['vermilion', 'cinnabar'], true],
    [['chalk', 'calcite', 'lime-white'], true],
    [['chalk', 'shell-white'], false],
    [['potash-glass', 'amorphous-silica'], false],
    [['chalk', 'no-such-material'], false],
  ])('%j: %s', (ids, expected) => {
    expect(areOneCompound(ids.map((id) => ({ id })))).toBe(expected);
  });
});

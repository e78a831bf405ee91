// The pigment knowledge (data/pigments/*.csv) as a whole: materials, dates, hazards, sources. Compositions are checked against published values at the end.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { symbolOf, zOf } from '../packages/core/src/atomic/elements.ts';
import {
  ELEMENT_HAZARDS,
  fractionIn,
  KNOWLEDGE_SOURCES,
  KNOWN_CLASHES,
  LOOKALIKE_SETS,
  materialById,
  materialOf,
  MATERIALS,
  PIGMENT_DATA_VERSION,
} from '../packages/core/src/pigments/knowledge.ts';
import { faultText, materialsIn } from '../packages/core/src/pigments/material-table.ts';
import { opticsOf } from '../packages/core/src/pigments/optics-table.ts';
import { rowsOf } from './fixtures/data-rows.ts';

const KEYS = new Set(KNOWLEDGE_SOURCES.map(({ key }) => key));

/** Runs the packing script again; it must find nothing to do. */
function repack() {
  const script = fileURLToPath(new URL('../.config/pack-pigments.mjs', import.meta.url));
  return spawnSync(process.execPath, [script], { encoding: 'utf8' });
}

describe('materials', () => {
  it('are many, each id once', () => {
    expect(MATERIALS.length).toBeGreaterThan(300);
    expect(new Set(MATERIALS.map(({ id }) => id)).size).toBe(MATERIALS.length);
    for (const { id } of MATERIALS) expect(id).toMatch(/^[a-z]+(-[a-z0-9]+)*$/);
  });

  it('hold the materials every painting cross-section may show', () => {
    const asked =
      'bismuth-metal lead-white smalt lead-tin-yellow-i lead-tin-yellow-ii vermilion azurite malachite verdigris-neutral ' +
      'chalk gypsum bone-black yellow-ochre red-ochre ultramarine-natural ultramarine-synthetic';
    expect(asked.split(' ').filter((id) => materialById(id) === undefined)).toEqual([]);
  });

  it('are sound by the check that own entries pass, and are packed as they stand', () => {
    const [heading, ...rows] = rowsOf('materials');
    const { entries, faults } = materialsIn(heading.cells, rows, { complete: true, sources: KEYS });
    expect(faults.map((fault) => faultText('materials.csv', fault))).toEqual([]);
    expect(MATERIALS).toEqual(entries.map(materialOf));
  });
});

describe('dates', () => {
  it('are trusted highly only where a source was read', () => {
    const read = new Set(
      KNOWLEDGE_SOURCES.filter(
        ({ consulted }) => !['recalled', 'none', 'memory', 'second hand'].includes(consulted),
      ).map(({ key }) => key),
    );
    const recalled = MATERIALS.filter((m) => m.datesTrust === 'high' && !m.datesSource.some((key) => read.has(key)));
    expect(recalled.map(({ id }) => id)).toEqual([]);
  });

  // Painting Materials (1942) and public text: selenium came into cadmium colours with the patent of 1892.
  it('of cadmium orange tell the kinds with and without selenium apart', () => {
    const [without, withSelenium] = ['cadmium-orange-sulfide', 'cadmium-orange'].map((id) => materialById(id)!);
    expect(fractionIn(without, 'Se')).toBe(0);
    expect(withSelenium.required).toContain('Se');
    expect(without.earliest).toBe(materialById('cadmium-yellow')!.earliest);
    expect(withSelenium.earliest).toBe(1892);
  });
});

/** Elements that are a hazard in most of their compounds, and the word by which the hazard of an entry names them. */
const TOXIC = {
  Pb: 'lead',
  Hg: 'mercury',
  As: 'arsenic',
  Cd: 'cadmium',
  Cr: 'chromium',
  Sb: 'antimony',
  Se: 'selenium',
  Co: 'cobalt',
  V: 'vanadium',
  U: 'uranium',
  Os: 'osmium',
};

describe('hazards', () => {
  it.each(Object.entries(TOXIC))('%s has its caution, and every material that holds it names it', (symbol, word) => {
    expect(ELEMENT_HAZARDS.map(({ element }) => element)).toContain(symbol);
    const silent = MATERIALS.filter((material) => fractionIn(material, symbol) > 0 && !material.hazard.includes(word));
    expect(silent.map(({ id }) => id)).toEqual([]);
  });
});

describe('sources and hazards', () => {
  it('name a title each, and every source is used', () => {
    const used = new Set([
      ...MATERIALS.flatMap((m) => [...m.compositionSource, ...m.datesSource]),
      ...MATERIALS.flatMap(({ id }) => Object.values(opticsOf(id)).flatMap(({ source }) => source)),
      ...[...LOOKALIKE_SETS, ...KNOWN_CLASHES, ...ELEMENT_HAZARDS].flatMap(({ source }) => source),
    ]);
    expect(KNOWLEDGE_SOURCES.map(({ key }) => key).filter((key) => !used.has(key))).toEqual([]);
    for (const { title, consulted } of KNOWLEDGE_SOURCES) expect(title.length * consulted.length).toBeGreaterThan(0);
  });

  it('warn of the toxic elements of painting', () => {
    const warned = ELEMENT_HAZARDS.map(({ element }) => element);
    expect(warned).toEqual(expect.arrayContaining(['Pb', 'As', 'Hg', 'Cd', 'Cr', 'Sb', 'Be']));
    for (const symbol of warned) expect(symbolOf(zOf(symbol)!)).toBe(symbol);
  });
});

describe('the packed file', () => {
  it('is up to date and its version follows the content', () => {
    const path = fileURLToPath(new URL('../packages/core/src/pigments/knowledge.json', import.meta.url));
    const before = readFileSync(path, 'utf8');
    expect(repack().stderr).toBe('');
    expect(readFileSync(path, 'utf8')).toBe(before);
    expect(PIGMENT_DATA_VERSION).toMatch(/^[0-9a-f]{16}$/);
  });
});

// Mass per cent worked from the formulae with IUPAC standard atomic weights (abridged, 2021): Pb 207.2, Hg 200.59, S 32.06,
// Sn 118.71, O 15.999, Bi 208.98, Cu 63.546, C 12.011, H 1.008, Ca 40.078, As 74.922, Cr 51.996.
describe('compositions agree with hand-worked mass fractions', () => {
  it.each([
    ['vermilion', 'Hg', 0.8622],
    ['lead-white', 'Pb', 0.8014],
    ['lead-tin-yellow-i', 'Sn', 0.1989],
    ['azurite', 'Cu', 0.5531],
    ['malachite', 'Cu', 0.5748],
    ['gypsum', 'S', 0.1862],
    ['orpiment', 'As', 0.609],
    ['chrome-yellow', 'Cr', 0.1609],
    ['emerald-green', 'As', 0.4434],
    ['bismuth-oxychloride', 'Bi', 0.8024],
  ])('%s: %s', (id, symbol, expected) => {
    expect(Math.abs(fractionIn(materialById(id)!, symbol) - expected)).toBeLessThan(2e-4);
  });
});

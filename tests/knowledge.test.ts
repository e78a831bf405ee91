// The pigment knowledge (data/pigments/*.csv) as a whole: form, references, order. Facts are checked against published values at the end.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parseFormula } from '../packages/core/src/atomic/composition.ts';
import { symbolOf, zOf } from '../packages/core/src/atomic/elements.ts';
import { edgeEv, SUBSHELLS } from '../packages/core/src/atomic/shells.ts';
import { linesOf } from '../packages/core/src/atomic/lines.ts';
import {
  ELEMENT_HAZARDS,
  fractionIn,
  knownLookalikes,
  KNOWLEDGE_SOURCES,
  KNOWN_CLASHES,
  LOOKALIKE_SETS,
  materialById,
  MATERIALS,
  PIGMENT_DATA_VERSION,
} from '../packages/core/src/pigments/knowledge.ts';

const CLASSES = ['pigment', 'lake', 'metal', 'ground', 'filler', 'drier', 'alteration', 'contaminant'];
const TRUST = ['high', 'medium', 'low'];
const KEYS = new Set(KNOWLEDGE_SOURCES.map(({ key }) => key));

/** Runs the packing script again; it must find nothing to do. */
function repack() {
  const script = fileURLToPath(new URL('../.config/pack-pigments.mjs', import.meta.url));
  return spawnSync(process.execPath, [script], { encoding: 'utf8' });
}

describe('materials', () => {
  it('are many, each id once', () => {
    expect(MATERIALS.length).toBeGreaterThanOrEqual(140);
    expect(new Set(MATERIALS.map(({ id }) => id)).size).toBe(MATERIALS.length);
    for (const { id } of MATERIALS) expect(id).toMatch(/^[a-z]+(-[a-z0-9]+)*$/);
  });

  it('hold the materials every painting cross-section may show', () => {
    const asked =
      'bismuth-metal lead-white smalt lead-tin-yellow-i lead-tin-yellow-ii vermilion azurite malachite verdigris-neutral ' +
      'chalk gypsum bone-black yellow-ochre red-ochre ultramarine-natural ultramarine-synthetic';
    expect(asked.split(' ').filter((id) => materialById(id) === undefined)).toEqual([]);
  });

  it.each(MATERIALS.map((material) => [material.id, material] as const))('%s is sound', (_, material) => {
    const { composition, required, companions, against, earliest, latest } = material;
    expect(CLASSES).toContain(material.class);
    for (const { formula } of composition) expect(parseFormula(formula).size).toBeGreaterThan(0);
    expect(required.length).toBeGreaterThan(0);
    for (const symbol of required) expect(fractionIn(material, symbol), `${symbol} in the formula`).toBeGreaterThan(0);
    expect(new Set([...required, ...companions]).size).toBe(required.length + companions.length);
    for (const symbol of companions) expect(zOf(symbol), symbol).toBeDefined();
    for (const { element, per } of against) {
      expect(required).toContain(per);
      expect(zOf(element), element).toBeDefined();
    }
    expect(earliest ?? -Infinity).toBeLessThan(latest ?? Infinity);
    expect(material.spread).toBeGreaterThanOrEqual(0);
    expect(material.spread).toBeLessThanOrEqual(1);
    for (const text of [material.name, material.hue, material.followUp, material.hazard]) expect(text).not.toBe('');
  });

  it('state source and trust of composition and dates', () => {
    for (const material of MATERIALS) {
      const dated = material.earliest !== null || material.latest !== null;
      expect(TRUST, material.id).toContain(material.compositionTrust);
      expect(dated ? TRUST : ['none'], material.id).toContain(material.datesTrust);
      expect(material.compositionSource.length, material.id).toBeGreaterThan(0);
      expect(material.datesSource.length > 0, material.id).toBe(dated);
      for (const key of [...material.compositionSource, ...material.datesSource]) expect(KEYS).toContain(key);
    }
  });

  it('are not contradicted by their own formula', () => {
    for (const material of MATERIALS)
      for (const { element, per, above } of material.against) {
        const atoms = (symbol: string) =>
          material.composition.reduce((sum, { formula, massFraction }) => {
            const weight = massFraction / parts(formula);
            return sum + weight * (parseFormula(formula).get(zOf(symbol)!) ?? 0);
          }, 0);
        expect(atoms(element) / atoms(per), `${material.id}: ${element}/${per}`).toBeLessThan(above);
      }
    function parts(formula: string): number {
      return [...parseFormula(formula).values()].reduce((sum, n) => sum + n, 0);
    }
  });
});

describe('look-alikes', () => {
  it('name known materials, at least two, with reason, technique and source', () => {
    for (const { members, why, toldApartBy, source } of LOOKALIKE_SETS) {
      expect(members.filter((id) => materialById(id) === undefined)).toEqual([]);
      expect(new Set(members).size).toBe(members.length);
      expect(members.length).toBeGreaterThan(1);
      expect(why).not.toBe('');
      expect(toldApartBy).not.toBe('');
      for (const key of source) expect(KEYS).toContain(key);
    }
  });

  it('hold both ways', () => {
    for (const { id } of MATERIALS)
      for (const other of knownLookalikes(id)) expect(knownLookalikes(other)).toContain(id);
  });
});

describe('clashes', () => {
  const energyOf = (symbol: string, iupac: string) =>
    linesOf(zOf(symbol)!).find((line) => line.iupac === iupac || line.iupac.startsWith(`${iupac},`))?.energyEv;

  it('are at least 60', () => {
    expect(KNOWN_CLASHES.length).toBeGreaterThanOrEqual(60);
  });

  it.each(KNOWN_CLASHES.map((c) => [`${c.elementA} ${c.lineA} / ${c.elementB} ${c.lineB}`, c] as const))(
    '%s exists, lies close and states what settles it',
    (_, { elementA, lineA, elementB, lineB, settledBy, paintContext, beamKev, source }) => {
      const a = energyOf(elementA, lineA);
      expect(a).toBeDefined();
      if (elementB !== 'artefact') {
        const b = energyOf(elementB, lineB);
        expect(b).toBeDefined();
        // Lines further apart than about two FWHM of a usual detector (130 eV at 5.9 keV) are no coincidence.
        expect(Math.abs(a! - b!)).toBeLessThan(2.1 * 0.15 * 1000);
      } else expect(lineB).toMatch(/^(escape of|sum of) [A-Z]/);
      expect(settledBy).not.toBe('');
      expect(paintContext).not.toBe('');
      expect(source.length).toBeGreaterThan(0);
      for (const key of source) expect(KEYS).toContain(key);
      const named = `${elementA} K ${elementB} K ${settledBy} ${lineB}`.match(/\b[A-Z][a-z]?(?= [KLM])/g)!;
      // The beam energy is the absorption edge of a line of one of the elements named.
      const edges = named
        .filter((symbol) => zOf(symbol) !== undefined)
        .flatMap((symbol) => SUBSHELLS.map((__, s) => edgeEv(zOf(symbol)!, s) / 1000));
      expect(beamKev).not.toBeNull();
      expect(
        Math.min(...edges.filter(Number.isFinite).map((edge) => Math.abs(edge - beamKev!) / beamKev!)),
      ).toBeLessThan(0.01);
    },
  );
});

describe('sources and hazards', () => {
  it('name a title each, and every source is used', () => {
    const used = new Set([
      ...MATERIALS.flatMap((m) => [...m.compositionSource, ...m.datesSource]),
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

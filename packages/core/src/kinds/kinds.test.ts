import { beforeAll, describe, expect, it } from 'vitest';
import { identify } from '../reading/identify.ts';
import { simulate } from '../simulate/simulate.ts';
import { compositionIn } from './composition.ts';
import { kindsOf, type Kinds, type KindMember } from './kinds.ts';

/** A drying oil as its commonest triglyceride, trilinolein. */
const OIL = 'C57H98O6';
/** Invented grains by ideal formulas with some company, each with its part by mass. */
const MATERIALS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  'lead white': { '2PbCO3*Pb(OH)2': 1 },
  vermilion: { HgS: 1 },
  'lead-tin yellow': { Pb2SnO4: 1 },
  azurite: { '2CuCO3*Cu(OH)2': 0.95, SiO2: 0.05 },
  smalt: { SiO2: 0.66, K2O: 0.15, CoO: 0.08, FeO: 0.04, As2O3: 0.04, Al2O3: 0.03 },
  chalk: { CaCO3: 1 },
  gypsum: { 'CaSO4*2H2O': 1 },
  'red earth': { Fe2O3: 0.5, 'Al2Si2O5(OH)4': 0.4, SiO2: 0.07, KAlSi3O8: 0.03 },
};
/** Of each material. */
const GRAINS = process.env['LIMNER_WHOLE'] === undefined ? 2 : 12;

/** Even numbers from 0 to 1, the same each time (Lehmer, 1951, with the multiplier of Park and Miller, 1988; recalled). */
function seeded(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

/** A grain in oil of any part from 8 to 58 %, its company up to 15 % off, with any number of counts in the range. */
function member(
  material: string,
  k: number,
  random: () => number,
  [least, most]: readonly [number, number],
): KindMember {
  const oil = 0.08 + 0.5 * random();
  const own = Object.entries(MATERIALS[material]).map(([formula, part]) => ({
    formula,
    part: part * (0.85 + 0.3 * random()),
  }));
  const total = own.reduce((sum, { part }) => sum + part, 0);
  const composition = [
    ...own.map(({ formula, part }) => ({ formula, massFraction: ((1 - oil) * part) / total })),
    { formula: OIL, massFraction: oil },
  ];
  const totalCounts = Math.round(least * (most / least) ** random());
  const axis = { offsetEv: 0, gainEv: 20 };
  const record = identify(
    simulate({ composition }, { beamKev: 20, channels: 1024, axis, totalCounts, seed: 1000 + k }),
  );
  const file = `${material} ${k}`;
  return { file, sha256: file, totalCounts, composition: compositionIn(record.elements), best: null };
}

function session(seed: number, counts: readonly [number, number]): KindMember[] {
  const random = seeded(seed);
  return Array.from({ length: GRAINS }, (_, k) => k).flatMap((k) =>
    Object.keys(MATERIALS).map((material) => member(material, k, random, counts)),
  );
}

/** Spectra in kinds that hold one material only. */
const pure = ({ kinds }: Kinds): number =>
  kinds
    .filter(({ members }) => new Set(members.map(({ file }) => file.replace(/ \d+$/, ''))).size === 1)
    .reduce((sum, { members }) => sum + members.length, 0);

describe(`kinds of ${8 * GRAINS} grains of 8 invented materials`, () => {
  let members: KindMember[];
  beforeAll(() => {
    members = session(7, [2e3, 2e5]);
  }, 300_000);

  it('are the eight materials, with none apart, at 2000 to 200 000 counts', () => {
    const found = kindsOf(members);
    expect(found.kinds).toHaveLength(8);
    expect(found.outliers).toEqual([]);
    expect(pure(found)).toBe(members.length);
    expect(found.kinds.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['Pb', 'Pb with Sn', 'Ca', 'Ca and S', 'Hg with S']),
    );
  });

  it('are the same whatever the order of the spectra', () => {
    const random = seeded(3);
    const keyed = members.map((one) => ({ one, key: random() })).sort((a, b) => a.key - b.key);
    expect(kindsOf(keyed.map(({ one }) => one))).toEqual(kindsOf(members));
  });

  it('leave out a grain of another material as like no other, and say which kind comes closest and by what it differs', () => {
    const base = members.find(({ file }) => file === 'chalk 0')!;
    const odd = identify(simulate({ composition: 'ZnO' }, { beamKev: 20, totalCounts: 50_000, seed: 1 }));
    const { kinds, outliers } = kindsOf([
      ...members,
      { ...base, file: 'odd', sha256: 'odd', composition: compositionIn(odd.elements) },
    ]);
    expect(kinds).toHaveLength(8);
    expect(outliers.map(({ member: { file } }) => file)).toEqual(['odd']);
    expect(outliers[0].closest!.difference.sigmas).toBeGreaterThan(3);
  });

  it('have a representative of at least median counts', () => {
    for (const { members: its, representative } of kindsOf(members).kinds) {
      const stronger = its.filter(({ totalCounts }) => totalCounts >= representative.totalCounts);
      expect(stronger.length).toBeLessThanOrEqual(Math.ceil(its.length / 2) + 1);
    }
  });
});

describe('kinds of no spectra', () => {
  it('are none', () => {
    expect(kindsOf([])).toMatchObject({ kinds: [], outliers: [] });
  });
});

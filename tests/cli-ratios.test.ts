// The ratios of the trade through `limner identify --json`, on pigments in resin simulated with physics bent away from our own:
// what was put in must lie within three standard uncertainties. LIMNER_RATIOS=10 takes so many seeds of each, at both energies.
import { type LimnerRecord, simulate, writeEmsa } from '@limner/core';
import { expect, it } from 'vitest';
import { mixture } from '../packages/core/src/atomic/composition.ts';
import { atomicWeight, zOf } from '../packages/core/src/atomic/elements.ts';
import { KNOWN_RATIOS, materialById } from '../packages/core/src/pigments/knowledge.ts';
import { limner } from './fixtures/cli.ts';
import { BENT } from './statistics/grains.ts';

const SEEDS = Number(process.env['LIMNER_RATIOS'] ?? 1);
/** An epoxy resin (bisphenol A diglycidyl ether), and its part by mass. */
const RESIN = mixture([{ formula: 'C21H24O4', massFraction: 1 }]);
const RESIN_PART = 0.3;

const GROUPS: readonly (readonly [string, readonly string[]])[] = [
  ['Sn:Pb and Si of lead-tin yellow', ['lead-tin-yellow-i', 'lead-tin-yellow-ii']],
  ['Ca:P of bone black', ['bone-black']],
  ['K:Si and cobalt with its companions in smalt', ['smalt', 'smalt-leached']],
  ['Cu:As of the arsenic greens', ['emerald-green', 'copper-arsenite-green']],
  ['Ba:S:Zn of lithopone', ['lithopone']],
  ['Al:Si:Na:S of ultramarine', ['ultramarine-natural', 'ultramarine-synthetic']],
  ['Fe:K:Al:Si of earths', ['yellow-ochre', 'raw-umber', 'green-earth-celadonite']],
];

/** Atomic ratio in the material itself. */
function truth(id: string, numerator: readonly string[], denominator: readonly string[]): number {
  const { fractions } = materialById(id)!;
  const moles = (symbols: readonly string[]): number =>
    symbols.reduce((sum, symbol) => sum + fractions[zOf(symbol)!] / atomicWeight(zOf(symbol)!), 0);
  return moles(numerator) / moles(denominator);
}

async function recordOf(id: string, beamKev: number, seed: number): Promise<LimnerRecord> {
  const { fractions } = materialById(id)!;
  const composition = RESIN.map((resin, z) => RESIN_PART * resin + (1 - RESIN_PART) * fractions[z]);
  const perturb = { seed: seed + 1, ...BENT };
  const spectrum = simulate({ composition }, { beamKev, takeOffDeg: 40, totalCounts: 2e5, seed, perturb });
  const { stdout, stderr } = await limner(['identify', '-', '--json'], { stdin: writeEmsa(spectrum) });
  expect(stderr).toBe('');
  return JSON.parse(stdout) as LimnerRecord;
}

interface Seen {
  readonly what: string;
  readonly pull: number;
  readonly relative: number;
  readonly agrees: string;
}

const ALL = process.env['LIMNER_RATIOS'] !== undefined;
/** `npm test` reads each material at one of them. */
const BEAMS_KEV = [15, 20];

async function seenIn(id: string, turn: number): Promise<Seen[]> {
  const out: Seen[] = [];
  for (const beamKev of BEAMS_KEV.filter((_, i) => ALL || i === turn % 2))
    for (let k = 0; k < SEEDS; k++) {
      const { ratios } = await recordOf(id, beamKev, 70_000 + 101 * k + beamKev);
      for (const { id: ratio, materials, numerator, denominator, value, agrees } of ratios) {
        if (value === null || !materials.includes(id)) continue;
        const relative = value.sigma / value.value;
        const pull = Math.log(value.value / truth(id, numerator, denominator)) / relative;
        if (Number.isFinite(pull)) out.push({ what: `${ratio} at ${beamKev} keV`, pull, relative, agrees });
      }
    }
  return out;
}

it(
  'what went in lies within three standard uncertainties, which are not wide for nothing',
  { timeout: 600_000 },
  async () => {
    const all: Seen[] = [];
    for (const [g, [group, ids]] of GROUPS.entries()) {
      const seen = (await Promise.all(ids.map((id, i) => seenIn(id, g + i)))).flat();
      // Every beam sees at least one ratio of each group.
      expect(seen.length, group).toBeGreaterThanOrEqual((ALL ? 2 : 1) * SEEDS);
      all.push(...seen);
    }
    const share = (test: (seen: Seen) => boolean): number => all.filter(test).length / all.length;
    const rms = Math.sqrt(all.reduce((sum, { pull }) => sum + pull ** 2, 0) / all.length);
    const relative = all.map((seen) => seen.relative).sort((a, b) => a - b);
    if (SEEDS > 1)
      process.stderr.write(
        `${all.length} ratios: rms pull ${rms}, median relative sigma ${relative[all.length >> 1]}\n`,
      );
    const far = all.filter(({ pull }) => Math.abs(pull) > 3).map(({ what, pull }) => `${what}: ${pull}`);
    expect(
      share(({ pull }) => Math.abs(pull) <= 3),
      far.join('\n'),
    ).toBeGreaterThanOrEqual(0.95);
    expect(rms).toBeGreaterThan(0.4);
    expect(rms).toBeLessThan(1.3);
    // Standardless: two elements by K lines 16 to 23 %, by M and K lines up to 45 %.
    expect(relative[all.length >> 1]).toBeLessThan(0.3);
    expect(relative[0]).toBeGreaterThan(0.1);
    expect(relative.at(-1)).toBeLessThan(0.6);
    // A true material is rarely said to be off its own ratio.
    expect(share(({ agrees }) => agrees === 'within')).toBeGreaterThanOrEqual(0.95);
  },
);

it('the full reading tells few of them, with the source', async () => {
  const { stdout } = await limner(['simulate', 'smalt=70', 'C21H24O4=30', '--seed', '3']);
  const { stdout: text } = await limner(['identify', '--full', '-'], { stdin: stdout });
  const section = text.slice(text.indexOf('Ratios of elements')).split('\n\n')[0];
  expect(section).toMatch(/K\/Si +0\.\d+ ± 0\.\d+ +0\.2 to 0\.35 +smalt +agrees/);
  expect(section).toMatch(/Artists' Pigments/);
  expect(section.split('\n').length).toBeLessThan(18);
});

it('every ratio that the groups name is known', () => {
  const known = new Set(KNOWN_RATIOS.flatMap(({ materials }) => materials));
  expect(GROUPS.flatMap(([, ids]) => ids).filter((id) => !known.has(id))).toEqual([]);
});

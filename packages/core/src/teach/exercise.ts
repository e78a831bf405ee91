import { exp, log } from '../arithmetic/exponential.ts';
import { symbolOf, zOf } from '../atomic/elements.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { withResolution } from '../detector/resolution-statement.ts';
import type { Perturbation } from '../simulate/perturb.ts';
import { randomStream, type RandomStream } from '../simulate/random.ts';
import { simulate } from '../simulate/simulate.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { BenchPart } from './bench-state.ts';
import { compositionOf } from './specimen.ts';

/** Difficulty of an exercise: the higher, the less of the element, the fewer counts, the more the physics is bent. */
export type Level = 1 | 2 | 3;

/** A blind exercise: what was simulated, and which elements are asked about. */
export interface Exercise {
  /** 1, 2, ... within its set. */
  readonly number: number;
  readonly level: Level;
  /** Parts by mass; the first is the main one. */
  readonly parts: readonly BenchPart[];
  readonly beamKev: number;
  readonly fwhmMnEv: number;
  readonly counts: number;
  /** Seeds of the noise and of the bent physics. */
  readonly seed: number;
  /** Symbols to judge, by atomic number: some are there, some are not. */
  readonly asked: readonly string[];
  /** 128 bits, hex: what keeps a commitment to a recipe from being guessed. */
  readonly salt: string;
}

/** Main material, what may be mixed in, and the elements asked about: a case of one overlap each. */
interface Case {
  readonly main: string;
  readonly added: string;
  readonly asked: readonly string[];
}

/** Overlaps met in paint; rivals that are never there stand beside elements that may be. */
const CASES: readonly Case[] = [
  { main: 'lead-white', added: 'gypsum', asked: ['S', 'Mo', 'Bi'] },
  { main: 'vermilion', added: 'lead-white', asked: ['S', 'Pb', 'Bi'] },
  { main: 'lead-white', added: 'bismuth-oxychloride', asked: ['Bi', 'S'] },
  { main: 'barium-sulfate-natural', added: 'titanium-white-rutile', asked: ['Ti', 'Ba', 'V'] },
  { main: 'haematite', added: 'cobalt-blue', asked: ['Co', 'Ni', 'Mn'] },
  { main: 'lead-white', added: 'orpiment', asked: ['As', 'S', 'Mg'] },
  { main: 'zinc-white', added: 'ultramarine-synthetic', asked: ['Na', 'Al', 'S'] },
  { main: 'cadmium-yellow', added: 'smalt', asked: ['K', 'Co', 'Ag'] },
  { main: 'chalk', added: 'lead-tin-antimony-yellow', asked: ['Sb', 'Sn', 'Ba'] },
  { main: 'dolomite', added: 'emerald-green', asked: ['As', 'Cu', 'Na'] },
  { main: 'chalk', added: 'bone-black', asked: ['P', 'Zr', 'S'] },
  { main: 'viridian', added: 'haematite', asked: ['Fe', 'Mn', 'V'] },
];

interface Range {
  readonly from: number;
  readonly to: number;
}

interface Difficulty {
  /** Share by mass of what is mixed in, log-uniform. */
  readonly share: Range;
  readonly counts: Range;
  readonly beamsKev: readonly number[];
  /** Content by mass that an absent element is asked about. */
  readonly content: number;
  readonly bend: Omit<Perturbation, 'seed'>;
}

/** Sizes of the bends: what measured spectra showed (tests/statistics/grains.ts), the more the higher the level. */
const bendOf = (size: number): Omit<Perturbation, 'seed'> => ({
  lineRatio: 0.06 * size,
  family: 0.1 * size,
  attenuation: 0.05 * size,
  continuum: 0.08 * size,
  noise: 0.03 * size,
  tail: 0.2 * size,
  window: 0.1 * size,
  offsetEv: 3 * size,
  gain: 0.0007 * size,
  mostKBetaShiftEv: 2 * size,
  wiggle: 0.01 * size,
});

export const DIFFICULTY: Readonly<Record<Level, Difficulty>> = {
  1: {
    share: { from: 0.1, to: 0.4 },
    counts: { from: 2e5, to: 5e5 },
    beamsKev: [20],
    content: 0.05,
    bend: bendOf(0.5),
  },
  2: {
    share: { from: 0.02, to: 0.15 },
    counts: { from: 5e4, to: 2e5 },
    beamsKev: [12, 15, 20],
    content: 0.02,
    bend: bendOf(1),
  },
  3: {
    share: { from: 0.002, to: 0.03 },
    counts: { from: 2e4, to: 1e5 },
    beamsKev: [8, 10, 15, 20],
    content: 0.01,
    bend: bendOf(1),
  },
};

const FWHM_EV = [127, 130, 135, 140];
const PURPOSE = 4101;
const NOT_MIXED = 0.4;

/** The same level, seed and number give the same exercises; a longer set begins with a shorter one. */
export function makeExercises(level: Level, seed: number, number: number): Exercise[] {
  const order = shuffled(CASES, randomStream(seed, PURPOSE + level));
  return Array.from({ length: number }, (_, i) =>
    exerciseOf(order[i % order.length], level, i, randomStream(seed, 1000 * level + PURPOSE + i)),
  );
}

function exerciseOf({ main, added, asked }: Case, level: Level, i: number, random: RandomStream): Exercise {
  const { share, counts, beamsKev } = DIFFICULTY[level];
  const mixed = random.uniform() > NOT_MIXED;
  const part = between(share, random);
  const beamKev = pick(beamsKev, random);
  const fwhmMnEv = pick(FWHM_EV, random);
  const total = Math.round(between(counts, random) / 1000) * 1000;
  const own = Math.floor(random.uniform() * 2 ** 31) + 1;
  const salt = Array.from({ length: 4 }, () =>
    Math.floor(random.uniform() * 2 ** 32)
      .toString(16)
      .padStart(8, '0'),
  ).join('');
  const parts = mixed
    ? [
        { of: main, share: rounded(100 * (1 - part)) },
        { of: added, share: rounded(100 * part) },
      ]
    : [{ of: main, share: 100 }];
  return {
    number: i + 1,
    level,
    parts,
    beamKev,
    fwhmMnEv,
    counts: total,
    seed: own,
    asked: [...asked].sort((a, b) => (zOf(a) ?? 0) - (zOf(b) ?? 0)),
    salt,
  };
}

/** The spectrum of an exercise, with noise and with physics bent away from the analysis's own. It carries its recipe: see withoutRecipe. */
export function exerciseSpectrum({ parts, beamKev, fwhmMnEv, counts, seed, level }: Exercise): Spectrum {
  return simulate(
    { composition: compositionOf(parts) },
    {
      beamKev,
      totalCounts: counts,
      detector: withResolution(DEFAULT_DETECTOR, fwhmMnEv),
      seed,
      perturb: { seed: seed + 1, ...DIFFICULTY[level].bend },
    },
  );
}

/** The text that a commitment is made of: everything that fixes the file. */
export const recipeText = (exercise: Exercise): string => JSON.stringify(exercise);

/** Symbols of a mixture. */
export const elementsIn = (parts: readonly BenchPart[]): string[] =>
  Array.from(compositionOf(parts), (fraction, z) => (fraction > 0 ? symbolOf(z) : '')).filter(Boolean);

const between = ({ from, to }: Range, random: RandomStream): number =>
  exp(log(from) + log(to / from) * random.uniform());

const pick = <T>(of: readonly T[], random: RandomStream): T =>
  of[Math.min(of.length - 1, Math.floor(of.length * random.uniform()))];

const rounded = (value: number): number => Number(value.toPrecision(4));

function shuffled<T>(of: readonly T[], random: RandomStream): T[] {
  const out = [...of];
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor((i + 1) * random.uniform());
    [out[i], out[j]] = [out[j], out[i]];
  }
  return out;
}

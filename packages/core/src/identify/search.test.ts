import { describe, expect, it } from 'vitest';
import type { AmountsProblem } from '../fit/eliminate.ts';
import { normalEquations } from '../fit/normal.ts';
import { Work } from '../fit/work.ts';
import { columnOf, valueAt } from '../model/column.ts';
import { poisson } from '../simulate/poisson.ts';
import { randomStream } from '../simulate/random.ts';
import { score, searchHypotheses } from './search.ts';

const n = 120;
const SIZE = 10;

/** Ten elements of one or two overlapping peaks each, three of them there, on a known background. */
function problemOf(seed: number): AmountsProblem {
  const stream = randomStream(seed, 0);
  const random = (): number => stream.uniform();
  const templates = Array.from({ length: SIZE }, (_, e) => {
    const [first, second, part] = [8 + 10 * e + 8 * random(), 10 + 100 * random(), 0.6 * random()];
    return columnOf(
      Float64Array.from(
        { length: n },
        (_, i) => Math.exp(-0.5 * ((i - first) / 5) ** 2) + part * Math.exp(-0.5 * ((i - second) / 5) ** 2),
      ),
    );
  });
  const there = Array.from({ length: SIZE }, () => (random() < 0.35 ? 60 * random() : 0));
  const mean = (i: number): number => 20 + there.reduce((sum, amount, e) => sum + amount * valueAt(templates[e], i), 0);
  const net = Float64Array.from({ length: n }, (_, i) => poisson(mean(i), stream) - 20);
  const weights = Float64Array.from({ length: n }, (_, i) => 1 / mean(i));
  const { matrix, rhs } = normalEquations(templates, net, weights, 0, n);
  return { size: SIZE, G: matrix, b: rhs, constant: 0 };
}

function exhaustive(problem: AmountsProblem, penalty: Float64Array, banned: ReadonlySet<number> = new Set()): number {
  let best = Infinity;
  for (let mask = 0; mask < 1 << SIZE; mask++) {
    const set = Array.from({ length: SIZE }, (_, e) => e).filter((e) => mask & (1 << e));
    if (set.some((e) => banned.has(e))) continue;
    best = Math.min(best, score(problem, set, { penalty }).score);
  }
  return best;
}

describe('search over sets of elements, beside trying all 1,024', () => {
  const seeds = Array.from({ length: 40 }, (_, i) => i + 1);
  const penalty = Float64Array.from({ length: SIZE }, (_, e) => 4 + e);

  it('finds the best set from nothing', () => {
    const misses = seeds.filter((seed) => {
      const problem = problemOf(seed);
      const found = searchHypotheses(problem, [[]], { penalty });
      const best = exhaustive(problem, penalty);
      expect(found.score).toBeGreaterThanOrEqual(best - 1e-6);
      return found.score > best + 1e-6;
    });
    expect(misses).toEqual([]);
  });

  it('finds the best set without a banned element', () => {
    for (const seed of seeds.slice(0, 15)) {
      const problem = problemOf(seed);
      const banned = new Set([seed % SIZE]);
      const found = searchHypotheses(problem, [[], [seed % SIZE]], { penalty, banned });
      expect(found.members.some((e) => banned.has(e))).toBe(false);
      expect(found.score - exhaustive(problem, penalty, banned)).toBeLessThan(1e-6);
    }
  });

  it('leaves everything out where no element is worth its penalty', () => {
    const found = searchHypotheses(problemOf(3), [[0, 1, 2]], { penalty: new Float64Array(SIZE).fill(1e9) });
    expect(found.members).toEqual([]);
    expect(found.score).toBe(0);
  });

  it('adds no more than 24 elements one by one, the best of them', () => {
    // Thirty elements that share nothing: worth 101, 102, ... each.
    const size = 30;
    const G = Float64Array.from({ length: size * size }, (_, i) => (i % (size + 1) === 0 ? 1 : 0));
    const b = Float64Array.from({ length: size }, (_, e) => Math.sqrt(101 + e));
    const options = { penalty: new Float64Array(size).fill(4), swaps: 0 };
    const { members } = searchHypotheses({ size, G, b, constant: 0 }, [[]], options);
    expect(members).toEqual(Array.from({ length: 24 }, (_, k) => 6 + k));
  });

  it('without swaps may stay at a poorer set, and below a score that is asked for none are tried', () => {
    const options = { penalty };
    const poorer = seeds.filter((seed) => {
      const problem = problemOf(seed);
      const start = [Array.from({ length: SIZE }, (_, e) => e)];
      const [all, none, lost] = [{}, { swaps: 0 }, { swapBelow: -Infinity }].map(
        (more) => searchHypotheses(problem, start, { ...options, ...more }).score,
      );
      expect(none).toBeGreaterThanOrEqual(all - 1e-6);
      expect(lost).toBe(none);
      return none > all + 1e-6;
    });
    expect(poorer.length).toBeGreaterThan(0);
  });
});

// What `fit/work.ts` says: 13 multiplications' time for each of a search, whose rows are short.
describe('what a search spends', () => {
  it('is three squares of the set’s size for a set, and the elements’ number times it for their gains', () => {
    const spent = (does: (work: Work) => unknown): number => {
      const work = new Work(1e9);
      does(work);
      return 1e9 - work.left;
    };
    const problem = problemOf(3);
    const penalty = new Float64Array(SIZE).fill(1e9);
    const [set, gains] = [
      (k: number): number => 13 * 3 * (k + 1) ** 2,
      (k: number): number => 13 * SIZE * (k + 1) ** 2,
    ];
    const { members } = score(problem, [0, 3, 7], { penalty });
    expect(spent((work) => score(problem, [0, 3, 7], { penalty, work }))).toBe(set(members.length));
    // Nothing is worth its penalty: the empty set, its gains twice, for additions and for swaps, whose newcomers all fall out again, and the end.
    const newcomers = spent((work) => searchHypotheses(problem, [[]], { penalty, work, swaps: 0 }));
    expect(newcomers).toBe(2 * set(0) + gains(0));
  });

  it('ends it where it stands', () => {
    const work = new Work(1);
    const { members } = searchHypotheses(problemOf(3), [[]], { penalty: new Float64Array(SIZE).fill(4), work });
    expect(members).toEqual([]);
  });
});

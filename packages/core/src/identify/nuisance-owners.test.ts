import { describe, expect, it } from 'vitest';
import { banded } from '../arithmetic/banded.ts';
import { eliminate, withoutColumns } from '../fit/eliminate.ts';
import { normalEquations } from '../fit/normal.ts';
import { columnOf } from '../model/column.ts';
import { searchOwned } from './nuisance-owners.ts';
import { score } from './search.ts';

const n = 100;
const gaussian = (centre: number, i: number): number => Math.exp(-0.5 * ((i - centre) / 4) ** 2);
const slope = (centre: number, i: number): number => ((i - centre) / 16) * gaussian(centre, i);
const columnFrom = (value: (i: number) => number) => columnOf(Float64Array.from({ length: n }, (_, i) => value(i)));

/** Elements at 20, 50 and 80; eliminated: a flat background, then the position of each peak as its own doubt. */
const centres = [20, 50, 80];
const columns = [
  ...centres.map((c) => columnFrom((i) => gaussian(c, i))),
  columnFrom(() => 1),
  ...centres.map((c) => columnFrom((i) => slope(c, i))),
];
/** The first peak is there, moved by one channel; the second is not; the third's doubt alone would please the counts. */
const counts = Float64Array.from(
  { length: n },
  (_, i) => 10 + 80 * gaussian(21, i) + 30 * Math.sin(i) * 0.02 + 25 * slope(80, i),
);
const q = 4;
const precision = banded(q, new Float64Array(q).fill(1e-3).fill(1e-8, 0, 1));
const normal = normalEquations(columns, counts, new Float64Array(n).fill(0.1), 0, n);
const elimination = eliminate(normal, 3, { precision, precisionMean: new Float64Array(q) });
const own = new Map([0, 1, 2].map((e) => [e, [e + 1]] as const));
const options = { penalty: new Float64Array(3).fill(10) };

describe('a search in which only members bring their doubts', () => {
  const found = searchOwned(elimination, own, [[]], options);

  it('strikes the doubts of every absent element and keeps those of members', () => {
    expect(found.hypothesis.members).toEqual([0]);
    expect(found.struck).toEqual([2, 3]);
  });

  it('tells its score relative to the whole elimination', () => {
    const problem = withoutColumns(elimination, [2, 3]);
    const direct = score(problem, [0], options).score + problem.constant;
    expect(Math.abs(found.hypothesis.score / direct - 1)).toBeLessThan(1e-9);
    expect(problem.constant).toBeGreaterThan(0);
  });

  it('leaves out what is out from the start only with its doubts', () => {
    const barred = { ...options, banned: new Set([0]) };
    const without = searchOwned(elimination, own, [[]], barred, new Set([0]));
    expect(without.struck).toContain(1);
    expect(without.hypothesis.members).not.toContain(0);
    expect(without.hypothesis.score).toBeGreaterThan(found.hypothesis.score + 100);
  });
});

import { describe, expect, it } from 'vitest';
import { worthASecondRound, worthSettling } from './worth-settling.ts';

const tried = (...badness: readonly number[]) => badness.map((one) => ({ badness: one }));
/** An axis of so many eV per channel that explains the counts so badly. */
const axis = (gainEv: number, badness: number) => ({ badness, axis: { offsetEv: 0, gainEv } });
const gains = (all: readonly ReturnType<typeof axis>[], toBeat = Infinity): number[] =>
  worthSettling(all, toBeat).map(({ gainEv }) => gainEv);

describe('axes that are looked at again', () => {
  it('are the six best, the best first', () => {
    const all = tried(...Array.from({ length: 20 }, (_, i) => 100 + ((7 * i) % 20)));
    expect(worthASecondRound(all).map(({ badness }) => badness)).toEqual(Array.from({ length: 6 }, (_, i) => 100 + i));
    expect(worthASecondRound([])).toEqual([]);
  });

  it('are none that is ten times worse than the best', () => {
    expect(worthASecondRound(tried(1000, 100, 999))).toEqual(tried(100, 999));
  });
});

describe('axes that are followed to their end', () => {
  it('are the three best of those that beat the stated one', () => {
    const all = [axis(20, 40), axis(25, 10), axis(30, 30), axis(35, 20)];
    expect(gains(all)).toEqual([25, 35, 30]);
    expect(gains(all, 30)).toEqual([25, 35]);
    expect(gains(all, 5)).toEqual([]);
  });

  it('are the best one only of gains within 2 %, on either side', () => {
    expect(gains([axis(20, 1), axis(20.39, 2), axis(19.61, 3)])).toEqual([20]);
    expect(gains([axis(20, 1), axis(20.41, 2), axis(19.59, 3)])).toEqual([20, 20.41, 19.59]);
    expect(gains([axis(20.39, 2), axis(20, 1)])).toEqual([20]);
  });
});

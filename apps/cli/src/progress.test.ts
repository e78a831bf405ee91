import { afterEach, expect, it, vi } from 'vitest';
import type { Io } from './io.ts';
import { progressOn } from './progress.ts';

afterEach(() => vi.restoreAllMocks());

/** What is told of a run whose steps end at these seconds. */
function told(isTTY: boolean, seconds: readonly number[], quiet = false): string {
  let now = 0;
  vi.spyOn(performance, 'now').mockImplementation(() => 1000 * now);
  let text = '';
  const io = { stderr: { isTTY, write: (more: string) => (text += more) } } as unknown as Io;
  const { onProgress } = progressOn(io, quiet);
  seconds.forEach((at, i) => {
    now = at;
    onProgress?.({ done: i, total: seconds.length, worked: i });
  });
  return text;
}

it('a log gets a line a minute', () => {
  const text = told(false, [0, 30, 59, 61, 90, 119, 125, 200]);
  expect(text.replaceAll('\u00a0', ' ')).toBe(
    '3 of 8, 3.0 a minute, 2 min left\n6 of 8, 2.9 a minute, 42 s left\n7 of 8, 2.1 a minute, 29 s left\n',
  );
});

it('a terminal gets one line that overwrites itself; quiet says nothing', () => {
  expect(told(true, [0, 0.1, 0.5])).toMatch(/^\r\[ +\] 0 of 3\S*\r\[=+ +\] 2 of 3\S*$/);
  expect(told(true, [0, 70], true)).toBe('');
});

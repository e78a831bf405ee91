import { expect, it } from 'vitest';
import { paceText, progressText } from './pace.ts';

it('rate and time left come from steps worked out now, not from those kept of an earlier run', () => {
  expect(paceText({ done: 500, total: 1000, worked: 100, seconds: 50 })).toBe(
    '500 of 1000, 2.0 a second, 4\u00a0min left',
  );
  expect(paceText({ done: 900, total: 1000, worked: 0, seconds: 50 })).toBe('900 of 1000');
  expect(paceText({ done: 3, total: 1000, worked: 3, seconds: 0.5 })).toBe('3 of 1000');
});

it('speaks in seconds, minutes and hours, and of slow work by the minute', () => {
  const left = (total: number): string => paceText({ done: 10, total, worked: 10, seconds: 20 });
  expect(left(30)).toBe('10 of 30, 30 a minute, 40\u00a0s left');
  expect(left(1000)).toMatch(/, 33\u00a0min left$/);
  expect(left(10_100)).toMatch(/, 5\.6\u00a0h left$/);
});

it('the page says what can be done meanwhile, and that files are looked for before there is a number', () => {
  expect(progressText({ done: 0, total: 0, worked: 0, seconds: 3 })).toBe('Looking for spectra.');
  expect(progressText({ done: 7, total: 19, worked: 7, seconds: 3.5 })).toBe(
    '7 of 19\u00a0steps, 2.0 a second, 6\u00a0s left. You can read any spectrum in the list meanwhile.',
  );
});

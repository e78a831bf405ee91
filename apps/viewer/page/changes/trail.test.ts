import { expect, it } from 'vitest';
import { Trail } from './trail.ts';

it('goes back and forth, and forgets what was undone once something else is changed', () => {
  const trail = new Trail();
  for (const state of ['', 'a', 'b', 'b']) trail.visit(state);
  expect([trail.before, trail.after]).toEqual(['a', undefined]);
  trail.visit('a');
  expect([trail.before, trail.after]).toEqual(['', 'b']);
  trail.visit('b');
  trail.visit('a');
  trail.visit('c');
  expect([trail.before, trail.after]).toEqual(['a', undefined]);
});

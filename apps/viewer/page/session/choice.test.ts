import { expect, it } from 'vitest';
import { ALL, choiceIn } from './choice.ts';

it('what was shown last is shown again, and what is not such a text leaves all of it', () => {
  const choice = { ...ALL, sample: 'P1', text: 'blue', sort: { by: 'Pb', descending: true } };
  expect(choiceIn(JSON.stringify(choice))).toEqual(choice);
  for (const text of ['', 'no JSON', '7', 'null', '{"sample":7,"sort":"Pb"}']) expect(choiceIn(text)).toEqual(ALL);
});

import { expect, it } from 'vitest';
import { invented } from '../../../../tests/fixtures/record.ts';
import { jsonBytes } from './json-bytes.ts';

const text = (value: object): string => Buffer.from(jsonBytes(value)).toString('utf8');

it('the bytes are those of JSON.stringify', () => {
  const odd = {
    a: undefined,
    'b"': [undefined, null, [], {}],
    c: [],
    d: {},
    e: 'Kα, \ud800',
    f: NaN,
    g: { h: undefined },
  };
  for (const value of [invented(), {}, odd, { a: undefined }]) expect(text(value)).toBe(JSON.stringify(value));
});

it('what is longer than the memory kept for it is whole, and a later text leaves an earlier one as it was', () => {
  const long = { a: 1, b: 'α'.repeat(2 ** 20), c: ['x'.repeat(2 ** 19)] };
  const bytes = jsonBytes(long);
  expect(text({ a: 2 })).toBe('{"a":2}');
  expect(Buffer.from(bytes).toString('utf8')).toBe(JSON.stringify(long));
});

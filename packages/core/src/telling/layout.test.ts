import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { printable, wrap } from './layout.ts';

describe('wrap', () => {
  it('keeps every word in order and every line within the width', () => {
    const words = fc.array(fc.stringMatching(/^[a-z]{1,12}$/), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(words, fc.integer({ min: 0, max: 8 }), (list, indent) => {
        const lines = wrap(list.join(' '), indent, 2, 30);
        expect(lines.join(' ').split(' ').filter(Boolean)).toEqual(list);
        for (const line of lines) expect(line.length).toBeLessThanOrEqual(30);
      }),
      { seed: 1 },
    );
  });

  it('does not part what no-break spaces join', () => {
    expect(wrap('about 12\u00a0345\u00a0counts', 0, 0, 13)).toEqual(['about', '12 345 counts']);
    expect(wrap('about 12\u00a0345\u00a0counts', 0, 0, 12)).toEqual(['about 12 345', 'counts']);
  });

  it('breaks a word that is longer than the width', () => {
    expect(wrap('a abcdefghijklmno', 2, 2, 10)).toEqual(['  a', '    abcdef', '    ghijkl', '    mno']);
  });

  it('gives no line for no text', () => {
    expect(wrap('')).toEqual([]);
  });
});

it('printable text cannot steer a terminal', () => {
  expect(printable('a\u001b[31mred\u0007\r\nb\u009b2J\u202ec')).toBe('a [31mred b 2J c');
});

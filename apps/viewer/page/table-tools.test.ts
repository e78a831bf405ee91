import { expect, it } from 'vitest';
import { csvOf } from './table-tools.ts';

it('writes cells that any sheet reads, and none that it would compute', () => {
  expect(
    csvOf([
      ['element', 'a "b", c'],
      ['=1+1', '-5'],
      ['12\u00a0%', '-x\ty'],
    ]),
  ).toBe('element,"a ""b"", c"\r\n\'=1+1,-5\r\n12 %,\'-x y\r\n');
});

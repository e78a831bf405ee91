import { describe, expect, it } from 'vitest';
import { positionIn } from './position.ts';

describe('the position of a spectrum', () => {
  const header = (...entries: [string, string, string][]) =>
    entries.map(([key, unit, value]) => ({ key, unit, value }));

  it('is read from the header with its unit, a decimal comma too', () => {
    expect(positionIn(header(['XPOSITION', 'mm', '1,5'], ['YPOSITION', 'mm', ' -2e-3 ']))).toEqual({
      x: 1.5,
      y: -0.002,
      unit: 'mm',
    });
  });

  it.each([
    [header(['XPOSITION', 'mm', '1'])],
    [header(['XPOSITION', 'mm', '1'], ['YPOSITION', 'mm', ''])],
    [header(['XPOSITION', 'mm', '1'], ['YPOSITION', 'um', '1'])],
    [header(['XPOSITION', 'mm', 'left'], ['YPOSITION', 'mm', '1'])],
  ])('is not told by %j', (entries) => {
    expect(positionIn(entries)).toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import { flatFloor } from './flat-floor.ts';

describe('the flat floor', () => {
  const counts = new Float64Array(200).fill(7);

  it('is as high as what lies above the beam energy, and spans the fitted range', () => {
    const floor = flatFloor(counts, 10, 150, 160)!;
    expect(floor.level).toBe(7);
    expect(floor.column).toMatchObject({ lo: 10, hi: 150 });
    expect([...floor.column.values]).toEqual(new Array(140).fill(1));
  });

  it('is not guessed where nothing above the beam energy is recorded, or hardly a count', () => {
    expect(flatFloor(counts, 10, 190, 195)).toBeNull();
    expect(flatFloor(new Float64Array(200), 10, 150, 160)).toBeNull();
  });
});
